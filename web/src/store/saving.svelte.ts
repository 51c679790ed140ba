// Saving the design under the hand: by a press, by Ctrl+S, and what happens when two tabs meet.
import { Gone, Refused, said } from '../api/client';
import type { Problem } from '../api/types';
import { design } from './design.svelte';
import { Overtaken, records, type Opened } from './records';
import { titled } from './titles';

class Saving {
  /** The dialogue that asks for name and note. */
  asking = $state(false);
  busy = $state(false);
  problems = $state.raw<Problem[]>([]);
  /** The other tab's state, while the builder decides between the two. */
  theirs = $state.raw<Opened | null>(null);
  /** Said once, politely, after a save. */
  told = $state('');
  #name = '';
  #note = '';

  /** Saves without a question where the design has a record, asks for a name where it has none. */
  quick(): void {
    if (!design.record) this.asking = true;
    else if (design.dirty) void this.save(design.record.name, '', false);
  }

  async save(name: string, note: string, new_version: boolean): Promise<void> {
    this.#name = name;
    this.#note = note;
    const record = design.record;
    const document = titled(design.document, name, !record ? 1 : record.version + (new_version || record.built ? 1 : 0));
    await this.#guarded(async () => {
      const kept = !record
        ? await records.create(name, document, note)
        : new_version
          ? await records.save_as_version(record, name, document, note)
          : await records.save(record, name, document, note);
      design.retitle(kept.record.name, kept.record.version);
      design.saved(document, kept.record);
      this.told = `Saved as version ${kept.record.version}.`;
      this.asking = false;
    });
  }

  /** Mine becomes a new version on top of theirs; theirs stays as the version before. */
  async keep_mine(): Promise<void> {
    const theirs = this.theirs;
    if (!theirs) return;
    design.record = theirs.record;
    this.theirs = null;
    await this.save(this.#name || theirs.record.name, this.#note, true);
  }

  /** Theirs goes on under the hand; mine is one press of Undo away. */
  take_theirs(): void {
    const theirs = this.theirs;
    if (!theirs) return;
    design.replace(theirs.document);
    design.saved(theirs.document, theirs.record);
    this.theirs = null;
    this.told = 'The other state is open. Undo brings yours back.';
  }

  async #guarded(work: () => Promise<void>): Promise<void> {
    this.busy = true;
    this.problems = [];
    try {
      await work();
    } catch (error) {
      if (error instanceof Overtaken) {
        this.asking = false;
        this.theirs = error.theirs;
      } else {
        this.asking = true;
        this.problems = words_of(error);
      }
    } finally {
      this.busy = false;
    }
  }
}

/** Any failure of a request as problems that can be shown. */
export function words_of(error: unknown): Problem[] {
  if (error instanceof Refused) return error.problems;
  if (!(error instanceof Gone)) console.error(error);
  return [said('The program does not answer', 'Nothing is lost here: look whether it still runs, then press again')];
}

export const saving = new Saving();

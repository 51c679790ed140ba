// What the last import brought, so that one press takes it back: flights as they came, and those it corrected as they were.
// What was changed since stays.
import { Gone, Refused } from '../api/client';
import { book } from './book.svelte';
import { same_flight, type LoggedFlight } from './flight';
import { mark_of, type Taken } from './imports';
import { setup } from './setup.svelte';
import type { Entry } from './shelf';
import { store, stored } from './storage';

const key = 'propwright-floor-last-import';
const at_once = 500;

export type Import = {
  file: string;
  at_ms: number;
  /** Of each flight that was not here before, a mark of its content. */
  added: Taken;
  /** Those that the file corrected: as they were, and as they came. */
  corrected: { before: LoggedFlight; came: LoggedFlight }[];
  /** Those that differ from what is here: both states were shown. */
  differing: string[];
};

/** What becomes of one that was added: `out` was sent nowhere, `seen` is in the workshop as it came, `stays` was changed since or is on its way. */
export function fate(there: Entry, mark: string): 'out' | 'seen' | 'stays' {
  if (mark_of(there.flight) !== mark) return 'stays';
  if (there.state === 'kept' && there.base !== null) return 'seen';
  return there.state !== 'kept' && there.base === null && !there.sent ? 'out' : 'stays';
}

const flights_words = (count: number) => `${count} ${count === 1 ? 'flight' : 'flights'}`;

/** "31 flights of old.csv are taken back." */
export function taken_back_words(file: string, back: number, corrected: number, stay: number): string {
  return [
    back > 0 ? `${flights_words(back)} of ${file} ${back === 1 ? 'is' : 'are'} taken back; take the file in again to have ${back === 1 ? 'it' : 'them'} here.` : '',
    corrected > 0 ? `${flights_words(corrected)} that it corrected ${corrected === 1 ? 'is as it was' : 'are as they were'}.` : '',
    stay > 0 ? `${flights_words(stay)} ${stay === 1 ? 'was' : 'were'} changed since and ${stay === 1 ? 'stays' : 'stay'}.` : '',
    back + corrected + stay === 0 ? `Nothing of ${file} is left here.` : '',
  ].filter(Boolean).join(' ');
}

class LastImport {
  now = $state.raw<Import | null>(stored(key) as Import | null);
  count = $derived(this.now ? Object.keys(this.now.added).length + this.now.corrected.length : 0);

  remember(now: Import | null): void {
    this.now = now;
    store(key, now);
  }

  /** All of it, where it was not changed since; what is said of it. */
  async take_back(): Promise<string> {
    const { now } = this;
    if (!now) return '';
    // What is on its way is there or not there, but not in between.
    await book.send();
    const { back, stay, left } = await this.#added_back(now.added);
    if (left > 0) return `The program does not answer: ${flights_words(left)} of ${now.file} ${left === 1 ? 'is' : 'are'} still in the workshop. Press again when it runs.`;
    const corrected = await this.#as_before(now);
    for (const entry of book.conflicts.filter(({ flight }) => now.differing.includes(flight.id))) await book.choose(entry, entry.from !== undefined);
    this.remember(null);
    return taken_back_words(now.file, back, corrected, stay + now.corrected.length - corrected);
  }

  async #added_back(added: Taken): Promise<{ back: number; stay: number; left: number }> {
    let out = 0, stay = 0;
    const seen = new Map<string, number>();
    await book.take_away(Object.keys(added), (there, id) => {
      const found = fate(there, added[id]!);
      if (found === 'out') ++out;
      if (found === 'stays') ++stay;
      if (found === 'seen') seen.set(id, there.base!);
      return found === 'out';
    });
    const gone = await this.#withdrawn([...seen].map(([id, revision]) => ({ id, revision })));
    if (gone === null) return { back: out, stay, left: seen.size };
    await book.take_away(gone, (there, id) => fate(there, added[id]!) === 'seen');
    return { back: out + gone.length, stay: stay + seen.size - gone.length, left: 0 };
  }

  /** Ids of those that the workshop has no more; null: it does not answer. */
  async #withdrawn(seen: readonly { id: string; revision: number }[]): Promise<string[] | null> {
    const gone: string[] = [];
    try {
      for (let at = 0; at < seen.length; at += at_once) {
        if (!setup.remote) return null;
        const answers = await setup.remote.withdraw(seen.slice(at, at + at_once), book.workshop);
        gone.push(...answers.filter(({ done }) => done !== 'changed').map(({ id }) => id));
      }
    } catch (error) {
      if (!(error instanceof Gone) && !(error instanceof Refused)) throw error;
      return null;
    }
    return gone;
  }

  async #as_before({ corrected }: Import): Promise<number> {
    let back = 0;
    for (const { before, came } of corrected) {
      const entry = book.entry(before.id);
      if (!entry || !same_flight(entry.flight, came)) continue;
      await book.keep(before, { base: entry.base, taken: entry.flight, launched: false });
      ++back;
    }
    return back;
  }
}

export const last_import = new LastImport();

// The design under the hand: the job document, its undo and redo, and which record it came from.
import type { DesignDocument, JobTable, JobValue, Profile } from '../api/types';
import { read, same, write } from '../lib/jobpath';
import { titled } from './titles';

/** Where a design is kept in the workshop; null for one that was never saved. */
export type RecordRef = { id: string; name: string; version: number; built: boolean; etag: string | null };

type Gesture = string | undefined;
const depth = 200;
const draft_key = 'propwright-draft';

class Design {
  document = $state.raw<DesignDocument>({ job: {} });
  record = $state.raw<RecordRef | null>(null);
  /** The content as last opened or saved; what `dirty` is judged against. */
  kept = $state.raw<DesignDocument>({ job: {} });
  #past = $state.raw<DesignDocument[]>([]);
  #future = $state.raw<DesignDocument[]>([]);
  #gesture: Gesture;
  #listeners = new Set<(document: DesignDocument) => void>();

  dirty = $derived(!same_design(this.document, this.kept));
  can_undo = $derived(this.#past.length > 0);
  can_redo = $derived(this.#future.length > 0);
  profile = $derived<Profile>(read(this.document.job, 'job.units') === 'inch' ? 'inch' : 'metric');
  name = $derived(String(read(this.document.job, 'job.name') ?? 'Unnamed'));

  /** Called at once after every change, before anything is drawn. */
  on_change(listener: (document: DesignDocument) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** What the job says in this field, as written; undefined where it is left out. */
  get(path: string): JobValue | undefined {
    return read(this.document.job, path);
  }

  /**
   * Writes one field; `undefined` takes it out. Writes with the same `gesture` (say "drag pitch") are
   * one step of undo until `settle` or another change.
   */
  set(path: string, value: JobValue | undefined, gesture?: string): void {
    this.update({ [path]: value }, gesture);
  }

  /** Several fields in one step of undo. */
  update(entries: { [path: string]: JobValue | undefined }, gesture?: string): void {
    let job: JobTable = this.document.job;
    for (const [path, value] of Object.entries(entries)) job = write(job, path, value);
    this.replace({ ...this.document, job }, gesture);
  }

  /** The whole document in one step of undo: a record filled in, a measured blade taken over. */
  replace(next: DesignDocument, gesture?: string): void {
    if (same(next, this.document)) return;
    if (gesture === undefined || gesture !== this.#gesture) {
      this.#past = [...this.#past.slice(-depth + 1), this.document];
    }
    this.#gesture = gesture;
    this.#future = [];
    this.#show(next);
  }

  /** The hand left the handle: the next change starts a new step of undo. */
  settle(): void {
    this.#gesture = undefined;
  }

  undo(): void {
    const last = this.#past.at(-1);
    if (!last) return;
    this.#past = this.#past.slice(0, -1);
    this.#future = [...this.#future, this.document];
    this.#gesture = undefined;
    this.#show(last);
  }

  redo(): void {
    const next = this.#future.at(-1);
    if (!next) return;
    this.#future = this.#future.slice(0, -1);
    this.#past = [...this.#past, this.document];
    this.#gesture = undefined;
    this.#show(next);
  }

  /** Opens a design: nothing of the one before is left to undo. */
  open(document: DesignDocument, record: RecordRef | null): void {
    this.#past = [];
    this.#future = [];
    this.#gesture = undefined;
    this.record = record;
    this.kept = document;
    this.#show(document);
  }

  /** Takes over the workshop's name and version; no step of undo. */
  retitle(name: string, version: number): void {
    const next = titled(this.document, name, version);
    if (next !== this.document) this.#show(next);
  }

  /** The document is now in the workshop under this record. */
  saved(document: DesignDocument, record: RecordRef): void {
    this.kept = document;
    this.record = record;
    this.#keep_draft();
  }

  /** Takes up the draft this tab had before it was loaded again; false when there is none. */
  take_draft(): boolean {
    try {
      const text = sessionStorage.getItem(draft_key);
      if (!text) return false;
      const draft = JSON.parse(text) as { document: DesignDocument; kept: DesignDocument; record: RecordRef | null };
      if (typeof draft.document?.job !== 'object') return false;
      this.record = draft.record;
      this.kept = draft.kept;
      this.#show(draft.document);
      return true;
    } catch {
      return false;
    }
  }

  #show(document: DesignDocument): void {
    this.document = document;
    for (const listener of this.#listeners) listener(document);
    this.#keep_draft_later();
  }

  #timer: ReturnType<typeof setTimeout> | undefined;
  #keep_draft_later(): void {
    if (typeof sessionStorage === 'undefined') return;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#keep_draft(), 250);
  }

  #keep_draft(): void {
    try {
      sessionStorage.setItem(draft_key, JSON.stringify({ document: this.document, kept: this.kept, record: this.record }));
    } catch {
      // Storage off or full: the draft then lives as long as the tab.
    }
  }
}

/** The same but for the units it is shown in: to read in inches changes no design. */
function same_design(a: DesignDocument, b: DesignDocument): boolean {
  const unitless = (document: DesignDocument) => ({ ...document, job: write(document.job, 'job.units', 'metric') });
  return same(unitless(a), unitless(b));
}

export const design = new Design();

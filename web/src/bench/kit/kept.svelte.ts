// One record of the bench under the hand: what is typed is kept in the workshop by itself once the hand
// rests, survives a reload before that, and never writes over what another tab wrote.
import { Gone, Refused } from '../../api/client';
import type { JobTable, JobValue, KeptKind, Problem } from '../../api/types';
import { read, same, write } from '../../lib/jobpath';
import { words_of } from '../../store/saving.svelte';
import { is_blank } from './blank';
import { bench_records, Overtaken, type BenchRecord, type Content, type Links } from './records';

const rest_ms = 600;
const retry_ms = 1500;

type Ref = { id: string; etag: string };
type Draft = { ref: Ref | null; content: Content; kept: Content };

export type KeptOptions = {
  kind: KeptKind;
  /** Name of its place in this tab: two blades of one propeller have two. */
  slot: string;
  /** Called before a record is made: links that must stand in it first. */
  before_create?: () => Promise<void>;
  /** Called once it has a record. */
  created?: (id: string) => void;
};

const content_of = ({ name, section, links, curve_csv }: Content): Content => ({ name, section, links, ...(curve_csv ? { curve_csv } : {}) });

export class Kept {
  name = $state('');
  section = $state.raw<JobTable>({});
  links = $state.raw<Links>({});
  /** Of rubber: the bench test as a job reads it. */
  curve_csv = $state('');
  ref = $state.raw<Ref | null>(null);
  /** What the workshop would not keep, and why. */
  problems = $state.raw<Problem[]>([]);
  /** What another tab wrote, while the builder decides. */
  theirs = $state.raw<BenchRecord | null>(null);
  gone = $state(false);
  busy = $state(false);
  /** Grows with each record that comes into the hand; a new one that gets its id is the same still. */
  shown = $state(0);
  #kept = $state.raw<Content>({ name: '', section: {}, links: {} });
  #timer: ReturnType<typeof setTimeout> | undefined;
  #writing: Promise<void> | null = null;
  #shows = 0;

  content = $derived<Content>({ name: this.name, section: this.section, links: this.links, ...(this.curve_csv === '' ? {} : { curve_csv: this.curve_csv }) });
  dirty = $derived(!same(this.content, this.#kept));
  blank = $derived(is_blank(this.section));
  id = $derived(this.ref?.id ?? null);

  constructor(readonly options: KeptOptions) {}

  get #draft_key(): string {
    return `propwright-bench-${this.options.slot}`;
  }

  get(path: string): JobValue | undefined {
    return read(this.section, path);
  }

  text(path: string): string {
    const value = this.get(path);
    return value === undefined || typeof value === 'object' ? '' : String(value);
  }

  /** An empty text takes the field out. */
  set(path: string, value: JobValue | undefined): void {
    this.section = write(this.section, path, value === '' ? undefined : value);
    this.#changed();
  }

  rename(name: string): void {
    this.name = name;
    this.#changed();
  }

  link(name: string, id: string | null): void {
    if ((this.links[name] ?? null) === id) return;
    const links = { ...this.links };
    if (id === null) delete links[name];
    else links[name] = id;
    this.links = links;
    this.#changed();
  }

  /** A new one that is in no workshop yet; it gets a record with the first thing written. */
  fresh(name: string, section: JobTable = {}, links: Links = {}): void {
    this.#show(null, { name, section, links });
    if (!is_blank(section)) this.#kept = { name: '', section: {}, links: {} };
    this.#changed();
  }

  /** What follows from the rest, and is kept with it. */
  put_curve(section: JobTable, curve_csv: string): void {
    if (same(section, this.section) && curve_csv === this.curve_csv) return;
    this.section = section;
    this.curve_csv = curve_csv;
    this.#changed();
  }

  async open(id: string): Promise<void> {
    const record = await bench_records.get(this.options.kind, id);
    this.#show({ id, etag: record.etag }, content_of(record));
  }

  /** Takes up what this tab had before it was loaded again, if that is this record; else reads it. */
  async resume(id: string | null): Promise<boolean> {
    const draft = this.#draft();
    if (draft && (draft.ref?.id ?? null) === id && this.#take(draft)) return true;
    if (id === null) return false;
    await this.open(id);
    return true;
  }

  /** Takes up whichever record this tab was writing when it was loaded again; false where nothing was left unwritten. */
  resume_unwritten(): boolean {
    const draft = this.#draft();
    return draft !== null && this.#take(draft);
  }

  #take(draft: Draft): boolean {
    if (same(draft.content, draft.kept) || (draft.ref === null && is_blank(draft.content.section))) return false;
    this.#show(draft.ref, draft.content);
    this.#kept = draft.kept;
    this.#changed();
    return true;
  }

  /** Writes what is not in the workshop yet; resolves when it stands there or cannot. */
  async flush(): Promise<void> {
    clearTimeout(this.#timer);
    while (this.#writing) await this.#writing;
    if (!this.dirty || this.theirs || (this.ref === null && this.blank)) return;
    this.#writing = this.#write();
    await this.#writing;
  }

  /** Mine goes over theirs, which the builder has seen. */
  async keep_mine(): Promise<void> {
    if (!this.theirs) return;
    this.ref = { id: this.theirs.id, etag: this.theirs.etag };
    this.theirs = null;
    await this.flush();
  }

  take_theirs(): void {
    if (!this.theirs) return;
    const { theirs } = this;
    this.theirs = null;
    this.#show({ id: theirs.id, etag: theirs.etag }, content_of(theirs));
  }

  #show(ref: Ref | null, content: Content): void {
    clearTimeout(this.#timer);
    this.ref = ref;
    this.name = content.name;
    this.section = content.section;
    this.links = content.links;
    this.curve_csv = content.curve_csv ?? '';
    this.#kept = content;
    this.problems = [];
    this.theirs = null;
    this.shown = ++this.#shows;
    this.#keep_draft();
  }

  #changed(): void {
    this.#keep_draft();
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.flush(), rest_ms);
  }

  async #write(): Promise<void> {
    this.busy = true;
    try {
      if (!this.ref) await this.options.before_create?.();
      const content = this.content;
      const { kind } = this.options;
      const made = this.ref ? await bench_records.save(kind, this.ref.id, this.ref.etag, content) : await bench_records.create(kind, content);
      const first = this.ref === null;
      this.ref = { id: made.id, etag: made.etag };
      this.#kept = content;
      this.problems = [];
      this.gone = false;
      this.#keep_draft();
      if (first) this.options.created?.(made.id);
      if (!same(this.content, content)) this.#changed();
    } catch (error) {
      this.#failed(error);
    } finally {
      this.busy = false;
      this.#writing = null;
    }
  }

  #failed(error: unknown): void {
    if (error instanceof Overtaken) {
      this.theirs = error.theirs;
      return;
    }
    this.gone = error instanceof Gone;
    this.problems = error instanceof Refused ? error.problems : [];
    if (this.gone) this.#timer = setTimeout(() => void this.flush(), retry_ms);
    else if (!(error instanceof Refused)) this.problems = words_of(error);
  }

  #draft(): Draft | null {
    try {
      const draft = JSON.parse(sessionStorage.getItem(this.#draft_key) ?? 'null') as Draft | null;
      return draft && typeof draft.content?.section === 'object' ? draft : null;
    } catch {
      return null;
    }
  }

  #keep_draft(): void {
    try {
      sessionStorage.setItem(this.#draft_key, JSON.stringify({ ref: this.ref, content: this.content, kept: this.#kept }));
    } catch {
      // Storage off or full: what is typed then lives as long as the page, and in the workshop.
    }
  }
}

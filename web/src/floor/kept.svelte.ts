// The entries of the log that this browser keeps: those of this workshop in memory, all of them on the shelf. What the
// shelf does not take stays in memory and is written again.
import { by_time, put_in_order, recent } from './merge';
import { open_shelf, type Change, type Entry, type Shelf } from './shelf';
import { Talk } from './talk';

const write_again_ms = 3000;
/** Flights the workshop has are held in memory up to so many; the others stay on the shelf. */
const first_most = 1000;
/** A shelf up to so long is read anew at each look at the page. */
const short_shelf = 5000;
const workshop_key = 'propwright-floor-workshop';

export class Kept {
  /** Of this workshop, the latest first. */
  entries = $state.raw<Entry[]>([]);
  /** Of this workshop on the shelf, those not in memory as well. */
  total = $state(0);
  /** What waits for another workshop, and how many flights of others are kept there. */
  elsewhere = $state.raw<{ waiting: Entry[]; kept: number }>({ waiting: [], kept: 0 });
  ready = $state(false);
  /** Flights that neither this browser keeps nor the workshop has: they last as long as this page. */
  unkept = $state(false);
  /** Id of the workshop that is open, as of the last answer; null: none is known. */
  workshop = $state.raw<string | null>(null);

  protected talk = new Talk();
  #shelf: Shelf | null = null;
  #opened: Promise<void> | null = null;
  #ids = new Set<string>();
  #kept_elsewhere = new Set<string>();
  #unwritten = new Map<string, Entry | undefined>();
  #late: ReturnType<typeof setTimeout> | undefined;
  #most = first_most;
  #by_id: { of: Entry[]; entries: Map<string, Entry> } = { of: [], entries: new Map() };

  protected open(workshop: string | null): Promise<void> {
    this.workshop ??= workshop;
    this.#opened ??= (async () => {
      this.#shelf = await open_shelf();
      await this.read_shelf();
      this.ready = true;
      this.talk.listen((ids) => void this.#heard(ids));
    })();
    return this.#opened;
  }

  entry(id: string): Entry | undefined {
    const { entries } = this;
    if (this.#by_id.of !== entries) this.#by_id = { of: entries, entries: new Map(entries.map((entry) => [entry.flight.id, entry])) };
    return this.#by_id.entries.get(id);
  }

  protected belongs(entry: Entry): boolean {
    return entry.workshop === undefined || this.workshop === null || entry.workshop === this.workshop;
  }

  /** Another file may be open at the same address: what is listed changes with it. */
  protected async is_workshop(id: string): Promise<void> {
    if (id === '' || id === this.workshop) return;
    this.workshop = id;
    try {
      localStorage.setItem(workshop_key, id);
    } catch {
      // Storage off: it is asked again after a reload.
    }
    await this.read_shelf();
  }

  protected last_workshop(): string | null {
    try {
      return localStorage.getItem(workshop_key);
    } catch {
      return null;
    }
  }

  protected async read_shelf(): Promise<void> {
    const all = await this.#everything();
    if (!all) return;
    const here = all.filter((entry) => this.belongs(entry)).sort(by_time);
    const others = all.filter((entry) => !this.belongs(entry));
    this.#ids = new Set(here.map(({ flight }) => flight.id));
    this.#kept_elsewhere = new Set(others.filter(({ state }) => state === 'kept').map(({ flight }) => flight.id));
    this.entries = recent(here, this.#most);
    this.total = this.#ids.size;
    this.elsewhere = { waiting: others.filter(({ state }) => state !== 'kept'), kept: this.#kept_elsewhere.size };
  }

  /** Null: the shelf cannot be read now. */
  async #everything(): Promise<Entry[] | null> {
    const all = await this.#shelf?.all().catch(() => null);
    if (!all) return null;
    const { size } = this.#unwritten;
    return size === 0 ? all : [...all.filter(({ flight }) => !this.#unwritten.has(flight.id)), ...[...this.#unwritten.values()].filter((entry) => entry !== undefined)];
  }

  /** The whole log of this workshop, the latest first: for a file. */
  async whole(): Promise<Entry[]> {
    const all = await this.#everything();
    return all ? all.filter((entry) => this.belongs(entry)).sort(by_time) : this.entries;
  }

  /** More of a long log into memory. */
  async more(): Promise<void> {
    this.#most += first_most;
    await this.read_shelf();
  }

  /** Changes entries in one step, on the shelf and in memory; `ids` are different ones. What is there afterwards. */
  protected async change(ids: readonly string[], change: Change): Promise<Map<string, Entry | undefined>> {
    await this.#opened;
    const asked = new Set(ids), late = new Map(this.#unwritten);
    if (ids.length === 0 && late.size === 0) return new Map();
    const changed = new Set<string>();
    let now: Map<string, Entry | undefined>;
    try {
      now = await this.#shelf!.change([...new Set([...ids, ...late.keys()])], (on_shelf, id) => {
        const there = late.has(id) ? late.get(id) : on_shelf;
        const next = asked.has(id) ? change(there, id) : undefined;
        const written = next === undefined && late.has(id) ? (there ?? null) : next;
        if (written !== undefined) changed.add(written?.flight.id ?? id);
        return written;
      });
      for (const [id, entry] of late) if (this.#unwritten.get(id) === entry) this.#unwritten.delete(id);
      if (changed.size > 0) this.talk.tell([...changed]);
    } catch (error) {
      now = this.#change_in_memory(ids, change);
      if (!(error instanceof DOMException)) console.error(error);
    }
    this.#hold(now);
    return now;
  }

  #change_in_memory(ids: readonly string[], change: Change): Map<string, Entry | undefined> {
    const now = new Map<string, Entry | undefined>();
    for (const id of ids) {
      const there = this.#unwritten.has(id) ? this.#unwritten.get(id) : this.known(id);
      const next = change(there, id);
      now.set(id, next === null ? undefined : next?.flight.id === id ? next : there);
      if (next === null) this.#unwritten.set(id, undefined);
      else if (next) {
        this.#unwritten.set(next.flight.id, next);
        now.set(next.flight.id, next);
      }
    }
    return now;
  }

  /** Of this workshop or of another, as far as memory has it. */
  protected known(id: string): Entry | undefined {
    return this.entry(id) ?? this.elsewhere.waiting.find(({ flight }) => flight.id === id);
  }

  #hold(now: ReadonlyMap<string, Entry | undefined>): void {
    const here = new Map<string, Entry | undefined>();
    let moved = false;
    for (const [id, entry] of now) {
      const ours = entry !== undefined && this.belongs(entry);
      if (entry !== this.entry(id)) here.set(id, ours ? entry : undefined);
      if (ours) this.#ids.add(id);
      else this.#ids.delete(id);
      const was = this.#kept_elsewhere.delete(id) || this.elsewhere.waiting.some(({ flight }) => flight.id === id);
      if (entry && !ours && entry.state === 'kept') this.#kept_elsewhere.add(id);
      moved ||= was || (entry !== undefined && !ours);
    }
    if (here.size > 0) this.entries = put_in_order(this.entries, here);
    this.total = this.#ids.size;
    if (moved) {
      const waiting = this.elsewhere.waiting.filter(({ flight }) => !now.has(flight.id));
      const put = [...now.values()].filter((entry) => entry !== undefined && !this.belongs(entry) && entry.state !== 'kept') as Entry[];
      this.elsewhere = { waiting: [...waiting, ...put], kept: this.#kept_elsewhere.size };
    }
    this.unkept = [...this.#unwritten.values()].some((entry) => entry !== undefined && entry.state !== 'kept');
    clearTimeout(this.#late);
    if (this.#unwritten.size > 0) this.#late = setTimeout(() => void this.change([], () => undefined), write_again_ms);
  }

  async #heard(ids: readonly string[] | null): Promise<void> {
    if (!this.#shelf) return;
    if (ids === null) return this.read_shelf();
    const now = await this.#shelf.change(ids.filter((id) => !this.#unwritten.has(id)), () => undefined).catch(() => null);
    if (now) this.#hold(now);
  }

  /** Another tab may have kept flights meanwhile and not been heard. */
  protected async look_at_shelf(): Promise<void> {
    if (!this.talk.there || this.total <= short_shelf) await this.read_shelf();
  }
}

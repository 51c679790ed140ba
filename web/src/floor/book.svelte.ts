// The log of flights in this browser, and its way to the workshop: each flight lies here first, then goes up
// whenever the program answers, once.
import { SvelteSet } from 'svelte/reactivity';
import { Gone, Refused } from '../api/client';
import { is_break, type LoggedFlight } from './flight';
import { answered, by_time, read_row, take_in, type TakenIn } from './merge';
import type { Remote, Sent } from './remote';
import { open_shelf, type Entry, type Shelf } from './shelf';

const retry_ms = 2000;
const at_once = 100;
const shown_from_workshop = 200;

class Book {
  entries = $state.raw<Entry[]>([]);
  ready = $state(false);
  /** The program does not answer. */
  gone = $state(false);
  /** The browser keeps nothing: flights last as long as this page. */
  unkept = $state(false);

  /** The torque meter of the day: of the sessions that flights open. */
  meter_id: () => string | null = () => null;

  waiting = $derived(this.entries.filter(({ state }) => state === 'waiting').length);
  conflicts = $derived(this.entries.filter(({ state }) => state === 'conflict'));
  refused = $derived(this.entries.filter(({ state }) => state === 'refused'));
  /** The flight logged last; a motor that broke is none. */
  last = $derived<LoggedFlight | null>(this.entries.find(({ flight }) => !is_break(flight))?.flight ?? null);

  #shelf: Shelf | null = null;
  #remote: Remote | null = null;
  #sending: Promise<void> | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #started: Promise<void> | null = null;
  /** Entries that can still be taken out: they wait here until they are let go. */
  #held = new SvelteSet<string>();

  start(remote: Remote | null): Promise<void> {
    this.#remote = remote;
    this.#started ??= this.#open();
    return this.#started;
  }

  async #open(): Promise<void> {
    this.#shelf = await open_shelf();
    this.entries = (await this.#shelf.all().catch(() => [])).sort(by_time);
    this.ready = true;
    addEventListener('online', () => void this.send());
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible') void this.#look_again();
    });
    await this.read_workshop();
    void this.send();
  }

  entry(id: string): Entry | undefined {
    return this.entries.find(({ flight }) => flight.id === id);
  }

  /** Keeps a flight here, then sends it. `base` as of the entry it was changed from. */
  async keep(flight: LoggedFlight, base: number | null): Promise<void> {
    await this.#put([{ flight, state: 'waiting', base }]);
    void this.send();
  }

  /** Keeps it here, and sends it only after a while: until then it can be taken out again. */
  async keep_held(flight: LoggedFlight, hold_ms: number): Promise<void> {
    this.#held.add(flight.id);
    await this.#put([{ flight, state: 'waiting', base: null }]);
    setTimeout(() => this.let_go(flight.id), hold_ms);
  }

  let_go(id: string): void {
    if (this.#held.delete(id)) void this.send();
  }

  is_held(id: string): boolean {
    return this.#held.has(id);
  }

  /** Takes out what is still held; false: it has been sent. */
  async take_out(id: string): Promise<boolean> {
    if (!this.#held.delete(id)) return false;
    this.entries = this.entries.filter(({ flight }) => flight.id !== id);
    await this.#shelf?.remove(id).catch(() => undefined);
    return true;
  }

  async take_in(flights: readonly LoggedFlight[]): Promise<TakenIn> {
    const report = take_in(this.entries, flights);
    await this.#put(report.entries);
    void this.send();
    return report;
  }

  /** What a saved page took along from the workshop. */
  async lay_in(rows: readonly { flight: LoggedFlight; revision: number }[]): Promise<void> {
    await this.#put(rows.flatMap(({ flight, revision }) => read_row(this.entry(flight.id), { flight, revision, updated_at: '' }) ?? []));
  }

  /** Mine over the workshop's, knowing it; or the workshop's as it stands. */
  async choose(entry: Entry, mine: boolean): Promise<void> {
    if (!entry.present) return;
    const { revision, flight } = entry.present;
    await this.#put([mine ? { flight: entry.flight, state: 'waiting', base: revision } : { flight, state: 'kept', base: revision }]);
    void this.send();
  }

  async read_workshop(): Promise<void> {
    if (!this.#remote) return;
    try {
      const rows = await this.#remote.latest(shown_from_workshop);
      const news = rows.flatMap((row) => read_row(this.entry(row.flight.id), row) ?? []);
      if (news.length > 0) await this.#put(news);
      this.gone = false;
    } catch (error) {
      this.#failed(error);
    }
  }

  /** Sends what waits; a second call while one is under way waits for that one. */
  send(): Promise<void> {
    this.#sending ??= this.#send_all().finally(() => (this.#sending = null));
    return this.#sending;
  }

  async #send_all(): Promise<void> {
    clearTimeout(this.#timer);
    try {
      while (this.#remote) {
        const part = this.entries.filter(({ state, flight }) => state === 'waiting' && !this.#held.has(flight.id)).slice(0, at_once);
        if (part.length === 0) return;
        await this.#send_part(this.#remote, part);
        this.gone = false;
      }
    } catch (error) {
      this.#failed(error);
      this.#timer = setTimeout(() => void this.send(), retry_ms);
    }
  }

  async #send_part(remote: Remote, part: readonly Entry[]): Promise<void> {
    const sent: Sent[] = part.map(({ flight, base }) => (base === null ? { flight } : { flight, base }));
    try {
      const merged = await remote.merge(sent, this.meter_id());
      await this.#put(merged.flatMap((each, at) => {
        const now = this.entry(each.id);
        return now ? [answered(now, part[at]!.flight, each)] : [];
      }));
    } catch (error) {
      if (!(error instanceof Refused) || error.status !== 422) throw error;
      await this.#put(this.#not_taken(part, error));
    }
  }

  /** The workshop names the entries it cannot read, "flights[3].flight.notes"; the others are sent again. */
  #not_taken(part: readonly Entry[], error: Refused): Entry[] {
    const found = error.problems.flatMap(({ field, message }) => {
      const at = /^flights\[(\d+)\]\.?(?:flight\.)?(.*)$/.exec(field);
      const entry = at ? part[Number(at[1]) - 1] : undefined;
      return entry && at ? [{ ...entry, state: 'refused' as const, reason: `${at[2]}: ${message}` }] : [];
    });
    return found.length > 0 ? found : part.map((entry) => ({ ...entry, state: 'refused' as const, reason: error.message }));
  }

  #failed(error: unknown): void {
    this.gone = true;
    if (!(error instanceof Gone) && !(error instanceof Refused)) console.error(error);
  }

  /** Another tab may have kept flights meanwhile. */
  async #look_again(): Promise<void> {
    const kept = await this.#shelf?.all().catch(() => null);
    if (kept && kept.length >= this.entries.length) this.entries = kept.sort(by_time);
    await this.send();
    await this.read_workshop();
  }

  async #put(entries: readonly Entry[]): Promise<void> {
    if (entries.length === 0) return;
    const new_ids = new Set(entries.map(({ flight }) => flight.id));
    this.entries = [...entries, ...this.entries.filter(({ flight }) => !new_ids.has(flight.id))].sort(by_time);
    try {
      await this.#shelf?.put(entries.map((entry) => $state.snapshot(entry) as Entry));
    } catch {
      this.unkept = true;
    }
  }
}

export const book = new Book();

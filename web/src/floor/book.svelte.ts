// The log of flights in this browser, and its way to the workshop: each flight lies here first, then goes up
// whenever the program answers, once.
import { SvelteSet } from 'svelte/reactivity';
import { Gone, Refused } from '../api/client';
import { is_break, new_id, same_flight, tidy, type LoggedFlight } from './flight';
import { Kept } from './kept.svelte';
import { answered, kept_beside, read_row, taken_beside, type Seen, type TakenInById } from './merge';
import { not_taken, words_of_refusal } from './refusal';
import type { FlightRow, Remote, Sent } from './remote';
import type { Entry } from './shelf';

const retry_ms = 2000, retry_refused_ms = 5000;
const at_once = 50;
const shown_from_workshop = 200;
/** A hold of another tab that is longer than any is a clock put back. */
const longest_hold_ms = 60000;

export class Book extends Kept {
  /** The program does not answer. */
  gone = $state(false);
  /** It wants an access code. */
  locked = $state(false);
  /** It answers, but takes nothing: its own words. */
  refusal = $state('');

  /** The torque meter of the day: of the sessions that flights open. */
  meter_id: () => string | null = () => null;

  waiting = $derived(this.entries.filter(({ state }) => state === 'waiting').length);
  conflicts = $derived(this.entries.filter(({ state }) => state === 'conflict'));
  refused = $derived(this.entries.filter(({ state }) => state === 'refused'));
  /** The flight logged last; a motor that broke is none. */
  last = $derived<LoggedFlight | null>(this.entries.find(({ flight }) => !is_break(flight))?.flight ?? null);

  #remote: Remote | null = null;
  #sending: Promise<void> | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #started: Promise<void> | null = null;
  #first: Promise<void> | null = null;
  /** Entries of this tab that can still be taken out: they wait here until they are let go. */
  #held = new SvelteSet<string>();

  /** Done when what this browser keeps is there: no network is waited for. `workshop`: of a page that was saved. */
  start(remote: Remote | null, workshop: string | null = null): Promise<void> {
    this.#remote = remote;
    this.#started ??= this.#open(workshop);
    return this.#started;
  }

  async #open(workshop: string | null): Promise<void> {
    await this.open(this.#remote ? this.last_workshop() : workshop);
    addEventListener('online', () => void this.#again());
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible') void this.look_at_shelf().then(() => this.#again());
    });
    this.#first = this.read_workshop().then(() => void this.send());
  }

  /** Done when the workshop was read for the first time, or could not be. */
  async first_look(): Promise<void> {
    await this.#started;
    await this.#first;
  }

  /** Keeps a flight here, then sends it. As it was kept: a new one never goes over another. */
  async keep(flight: LoggedFlight, seen: Seen): Promise<LoggedFlight> {
    const fresh = new_id(Date.now()), row = tidy(flight);
    const now = await this.change([row.id], (there) => this.#for_here(kept_beside(there, row, seen, fresh)));
    void this.send();
    return (now.get(fresh) ?? now.get(row.id))?.flight ?? row;
  }

  /** Keeps it here, and sends it only after a while: until then it can be taken out again. */
  async keep_held(flight: LoggedFlight, hold_ms: number): Promise<void> {
    this.#held.add(flight.id);
    const held_until_ms = Date.now() + hold_ms;
    await this.change([flight.id], () => this.#for_here({ flight: tidy(flight), state: 'waiting', base: null, held_until_ms }));
    setTimeout(() => this.let_go(flight.id), hold_ms);
  }

  let_go(id: string): void {
    if (!this.#held.delete(id)) return;
    void this.change([id], (there) => {
      if (there?.held_until_ms === undefined) return undefined;
      const { held_until_ms: _held, ...free } = there;
      return free;
    }).then(() => this.send());
  }

  is_held(id: string): boolean {
    return this.#held.has(id);
  }

  /** Takes out what is still held; false: it has been sent, by this tab or by another. */
  async take_out(id: string): Promise<boolean> {
    if (!this.#held.delete(id)) return false;
    let out = false;
    await this.change([id], (there) => {
      out = there === undefined || (there.state === 'waiting' && there.base === null && !there.sent);
      return out ? null : undefined;
    });
    if (!out) void this.send();
    return out;
  }

  async take_in(flights: readonly LoggedFlight[]): Promise<TakenInById> {
    const by_id = new Map<string, LoggedFlight[]>();
    for (const flight of flights) by_id.set(flight.id, [...(by_id.get(flight.id) ?? []), tidy(flight)]);
    const whats = new Map<string, ('added' | 'same' | 'differing')[]>();
    const now = await this.change([...by_id.keys()], (there, id) => {
      // What another workshop keeps is none of this one yet.
      let entry = there && there.state === 'kept' && !this.belongs(there) ? undefined : there;
      whats.set(id, by_id.get(id)!.map((flight) => {
        const taken = taken_beside(entry, flight);
        entry = taken.entry;
        return taken.what;
      }));
      return entry === there || entry === undefined ? undefined : this.#for_here(entry);
    });
    void this.send();
    const counted = (what: string) => [...whats.values()].flat().filter((each) => each === what).length;
    const ids_of = (what: 'added' | 'differing') => [...whats].flatMap(([id, all]) => (all.includes(what) ? [id] : []));
    const ids = { added: ids_of('added'), differing: ids_of('differing').filter((id) => !whats.get(id)!.includes('added')) };
    return { entries: [...now.values()].filter((entry) => entry !== undefined), ids, added: counted('added'), same: counted('same'), differing: counted('differing') };
  }

  /** What a saved page took along from the workshop. */
  async lay_in(rows: readonly { flight: LoggedFlight; revision: number }[]): Promise<void> {
    await this.#read_in(rows.map(({ flight, revision }) => ({ flight, revision, updated_at: '' })), this.workshop);
  }

  /** Mine over the other state, knowing it; or the other as it stands. */
  async choose(entry: Entry, mine: boolean): Promise<void> {
    await this.change([entry.flight.id], (there) => {
      if (there?.state !== 'conflict' || !there.present) return undefined;
      const { present, from, reason: _reason, ...rest } = there;
      if (from !== undefined) return { ...rest, flight: mine ? there.flight : present.flight, state: 'waiting' };
      return mine ? { ...rest, state: 'waiting', base: present.revision } : { ...rest, flight: present.flight, state: 'kept', base: present.revision };
    });
    void this.send();
  }

  /** What waits for another workshop is sent to this one. */
  async bring_over(): Promise<void> {
    await this.change(this.elsewhere.waiting.map(({ flight }) => flight.id), (there) => {
      if (!there || there.state === 'kept') return undefined;
      const { workshop: _theirs, sent: _sent, ...rest } = there;
      return this.#for_here(there.from === undefined ? { flight: there.flight, state: 'waiting', base: null } : { ...rest, base: null });
    });
    void this.send();
  }

  #for_here(entry: Entry): Entry {
    return this.workshop === null || entry.workshop !== undefined ? entry : { ...entry, workshop: this.workshop };
  }

  async read_workshop(): Promise<void> {
    if (!this.#remote) return;
    try {
      const { workshop_id, items, withdrawn } = await this.#remote.latest(shown_from_workshop);
      await this.is_workshop(workshop_id);
      await this.#read_in(items, workshop_id || null);
      await this.#drop(withdrawn);
      this.#answers();
    } catch (error) {
      this.#failed(error);
    }
  }

  async #read_in(rows: readonly FlightRow[], workshop: string | null): Promise<void> {
    const by_id = new Map(rows.map((row) => [row.flight.id, row]));
    const news = rows.filter((row) => read_row(this.known(row.flight.id), row, workshop) !== null);
    if (news.length > 0) await this.change(news.map(({ flight }) => flight.id), (there, id) => read_row(there, by_id.get(id)!, workshop) ?? undefined);
  }

  /** What was taken back elsewhere; what is changed here waits, and comes back with its change. */
  async #drop(withdrawn: readonly FlightRow[]): Promise<void> {
    const revisions = new Map(withdrawn.map(({ flight, revision }) => [flight.id, revision]));
    const goes = (there: Entry | undefined, id: string) => there?.state === 'kept' && (there.base ?? 0) < revisions.get(id)!;
    const gone = [...revisions.keys()].filter((id) => goes(this.known(id), id));
    if (gone.length > 0) await this.take_away(gone, goes);
  }

  /** Takes out of this browser, not of the workshop, those of which `goes` is true; what belongs to another workshop is not looked at. */
  async take_away(ids: readonly string[], goes: (there: Entry, id: string) => boolean): Promise<void> {
    await this.change(ids, (there, id) => (there && this.belongs(there) && goes(there, id) ? null : undefined));
  }

  async #again(): Promise<void> {
    await this.read_workshop();
    await this.send();
  }

  /** Sends what waits; a second call while one is under way waits for that one. */
  send(): Promise<void> {
    this.#sending ??= this.#send_all().finally(() => (this.#sending = null));
    return this.#sending;
  }

  #goes(entry: Entry): boolean {
    const held_ms = (entry.held_until_ms ?? 0) - Date.now();
    return entry.state === 'waiting' && this.belongs(entry) && !this.#held.has(entry.flight.id) && !(held_ms > 0 && held_ms < longest_hold_ms);
  }

  async #send_all(): Promise<void> {
    try {
      while (this.#remote) {
        const part = this.entries.filter((entry) => this.#goes(entry)).slice(0, at_once);
        if (part.length === 0) break;
        await this.#send_part(this.#remote, part.map(({ flight }) => flight.id));
      }
    } catch (error) {
      this.#failed(error);
    }
    // Held by another tab that may be gone when the time is over.
    if (this.#remote && this.entries.some(({ held_until_ms, flight }) => held_until_ms !== undefined && !this.#held.has(flight.id))) this.#try_again(retry_refused_ms);
  }

  /** As they lie on the shelf now: another tab may have put one right, or sent it. */
  async #send_part(remote: Remote, ids: readonly string[]): Promise<void> {
    const now = await this.change(ids, (there) => {
      if (!there || !this.#goes(there) || there.sent?.some((each) => same_flight(each, there.flight))) return undefined;
      return { ...there, sent: [...(there.sent ?? []), there.flight] };
    });
    const part = ids.flatMap((id) => now.get(id) ?? []).filter((entry) => this.#goes(entry));
    if (part.length === 0) return;
    const sent: Sent[] = part.map(({ flight, base }) => (base === null ? { flight } : { flight, base }));
    try {
      await this.#answered(part, await remote.merge(sent, this.meter_id(), this.workshop));
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      if (error.status === 409) return this.#another_workshop(error);
      if (error.status !== 422 && error.status !== 413) throw error;
      await this.#sort_out(remote, part, error);
    }
  }

  async #answered(part: readonly Entry[], merged: Awaited<ReturnType<Remote['merge']>>): Promise<void> {
    const answers = new Map(merged.map((each) => [each.id, each]));
    const sent = new Map(part.map(({ flight }) => [flight.id, flight]));
    if (part.some(({ flight }) => !answers.has(flight.id))) throw new Gone('The answer does not tell what became of every flight.');
    await this.change([...sent.keys()], (there, id) => answered(there, sent.get(id)!, answers.get(id)!, this.workshop));
    this.#answers();
  }

  async #another_workshop(error: Refused): Promise<void> {
    const before = this.workshop;
    await this.read_workshop();
    if (this.workshop === before) throw error;
  }

  /** Only what cannot be taken is refused: what the answer names, else what is not taken alone. */
  async #sort_out(remote: Remote, part: readonly Entry[], error: Refused): Promise<void> {
    this.#answers();
    const reasons = not_taken(part, error);
    if (reasons.size === 0) {
      for (const { flight } of part) await this.#send_part(remote, [flight.id]);
      return;
    }
    const sent = new Map(part.map(({ flight }) => [flight.id, flight]));
    await this.change([...reasons.keys()], (there, id) => {
      if (!there || there.state !== 'waiting' || !same_flight(there.flight, sent.get(id)!)) return undefined;
      const { sent: _sent, ...rest } = there;
      return { ...rest, state: 'refused', reason: reasons.get(id)! };
    });
  }

  #answers(): void {
    this.gone = this.locked = false;
    this.refusal = '';
    clearTimeout(this.#timer);
  }

  #failed(error: unknown): void {
    const refused = error instanceof Refused;
    this.gone = !refused;
    this.locked = refused && error.status === 401;
    this.refusal = refused && error.status !== 401 ? words_of_refusal(error) : '';
    if (!(error instanceof Gone) && !refused) console.error(error);
    this.#try_again(refused ? retry_refused_ms : retry_ms);
  }

  #try_again(after_ms: number): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.#again(), after_ms);
  }
}

export const book = new Book();

// Two logs become one: by id, nothing twice, nothing lost, nothing over another.
import { day_of, is_break, same_flight, type LoggedFlight } from './flight';
import type { FlightRow, Merged } from './remote';
import type { Entry } from './shelf';

/** What is known of a flight that is kept: whether it is in the log already, and as it stood there when it was taken into the hand. */
export type Seen = { taken: LoggedFlight | null; base: number | null; /** By the watch: its time of launch is its own. */ launched: boolean };

const waiting = (flight: LoggedFlight, there: Entry | undefined, base: number | null): Entry => ({
  flight, state: 'waiting', base, ...(there?.workshop === undefined ? {} : { workshop: there.workshop }), ...(there?.sent ? { sent: there.sent } : {}),
});

/** Both states, for the builder to settle: the one here, and another that is not the workshop's. */
const both = (here: LoggedFlight, there: Entry, other: LoggedFlight, from: 'file' | 'tab'): Entry => ({
  ...waiting(here, there, there.base), state: 'conflict', present: { flight: other, revision: there.base ?? 0, updated_at: '' }, from,
});

/** What the press of Keep makes of the entry that is `there` by now. A new flight never goes over another one: it gets `fresh_id`. */
export function kept_beside(there: Entry | undefined, flight: LoggedFlight, seen: Seen, fresh_id: string): Entry {
  if (!there) return waiting(flight, there, seen.base);
  if (same_flight(there.flight, flight)) return there;
  if (seen.taken === null && seen.base === null) {
    // Launched at one and the same second: one flight, kept in two tabs.
    if (seen.launched && there.flight.time === flight.time) return both(flight, there, there.flight, 'tab');
    return waiting({ ...flight, id: fresh_id }, undefined, null);
  }
  if (there.state === 'conflict') return { ...there, flight };
  const unchanged = seen.taken === null ? there.base === seen.base : same_flight(there.flight, seen.taken);
  if (unchanged) return waiting(flight, there, there.base);
  if (there.state !== 'kept') return both(flight, there, there.flight, 'tab');
  return { ...waiting(flight, there, there.base), state: 'conflict', present: { flight: there.flight, revision: there.base ?? 0, updated_at: '' } };
}

/** What becomes of the entry that is `there` where a file or codes bring `flight` of its id. */
export function taken_beside(there: Entry | undefined, flight: LoggedFlight): { entry: Entry | undefined; what: 'added' | 'same' | 'differing' } {
  // What was changed without sight of the workshop's state is sent without a base: the workshop shows both.
  if (!there) return { entry: waiting(flight, there, null), what: 'added' };
  const other = there.state === 'conflict' ? there.present?.flight : undefined;
  if (same_flight(there.flight, flight) || (other && same_flight(other, flight))) return { entry: there, what: 'same' };
  if (there.state === 'kept') return { entry: waiting(flight, there, null), what: 'differing' };
  // A third state waits in its file until the two are settled.
  return { entry: there.state === 'conflict' ? there : both(there.flight, there, flight, 'file'), what: 'differing' };
}

export type TakenIn = { entries: Entry[]; added: number; same: number; differing: number };
/** By id as well: what can be taken back. */
export type TakenInById = TakenIn & { ids: { added: string[]; differing: string[] } };

/** Flights out of a file among those that are here. */
export function take_in(here: readonly Entry[], flights: readonly LoggedFlight[]): TakenIn {
  const known = new Map(here.map((entry) => [entry.flight.id, entry]));
  const changed = new Set<string>();
  const report: TakenIn = { entries: [], added: 0, same: 0, differing: 0 };
  for (const flight of flights) {
    const { entry, what } = taken_beside(known.get(flight.id), flight);
    ++report[what];
    if (!entry || entry === known.get(flight.id)) continue;
    known.set(flight.id, entry);
    changed.add(flight.id);
  }
  report.entries = [...changed].map((id) => known.get(id)!);
  return report;
}

/** What became of one entry that was sent as `sent`; it may have been changed here meanwhile, also in another tab. */
export function answered(there: Entry | undefined, sent: LoggedFlight, merged: Merged, workshop: string | null = null): Entry {
  const now: Entry = { ...(there ?? { flight: sent, state: 'waiting', base: null }), ...(workshop === null ? {} : { workshop }) };
  const { sent: ours = [], present: _present, from: _from, reason: _reason, ...bare } = now;
  const changed_meanwhile = !same_flight(now.flight, sent);
  if (merged.done === 'refused') {
    if (changed_meanwhile || now.state !== 'waiting') return now;
    return { ...bare, state: 'refused', reason: merged.problems?.map(({ field, message }) => [field, message].filter(Boolean).join(': ')).join('; ') ?? 'the workshop does not take it' };
  }
  if (merged.done === 'conflict' && merged.present) {
    const { flight, revision } = merged.present;
    if (same_flight(flight, now.flight)) return { ...bare, state: 'kept', base: revision };
    // Sent earlier from here, its answer lost on the way: nobody else changed it.
    if (ours.some((each) => same_flight(each, flight))) return { ...bare, state: now.state === 'conflict' ? 'conflict' : 'waiting', base: revision, ...(now.state === 'conflict' && now.present ? { present: now.present } : {}), ...(now.from ? { from: now.from } : {}), sent: ours };
    return { ...bare, state: 'conflict', base: now.base, present: merged.present };
  }
  // Two states that came together meanwhile stay for the builder to settle.
  if (now.state === 'conflict') return { ...now, base: merged.revision };
  return changed_meanwhile ? { ...bare, state: 'waiting', base: merged.revision, sent: [...ours.filter((each) => !same_flight(each, sent)), sent] } : { ...bare, state: 'kept', base: merged.revision };
}

/** A row read from the workshop beside what is here: what waits here is left alone. Null: nothing changes. */
export function read_row(here: Entry | undefined, row: FlightRow, workshop: string | null = null): Entry | null {
  const theirs: Entry = { flight: row.flight, state: 'kept', base: row.revision, ...(workshop === null ? {} : { workshop }) };
  if (!here) return theirs;
  const elsewhere = here.workshop !== undefined && workshop !== null && here.workshop !== workshop;
  if (elsewhere) return here.state === 'kept' ? theirs : null;
  // What waits here is there by now: it came in by a file, by codes, or by an upload whose answer was lost.
  if (here.state !== 'kept') return same_flight(here.flight, row.flight) && here.from === undefined ? theirs : null;
  if ((here.base ?? 0) < row.revision) return theirs;
  return here.workshop === undefined && workshop !== null ? { ...here, workshop } : null;
}

/** By time, the latest first; what has no date stands last, here as in the verdict. */
export function by_time(a: Entry, b: Entry): number {
  const at = a.flight.time ?? '', other = b.flight.time ?? '';
  if (at !== other) return at < other ? 1 : -1;
  return a.flight.id === b.flight.id ? 0 : a.flight.id < b.flight.id ? 1 : -1;
}

/** The first place in an ordered list of which `is` is true; it is true of all after it. */
function first_of(entries: readonly Entry[], is: (entry: Entry) => boolean): number {
  let low = 0, high = entries.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (is(entries[middle]!)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** From so many changes on, the whole list is sorted. */
const many = 50;

/** The list with these changed, in order; undefined takes one out. */
export function put_in_order(latest_first: readonly Entry[], changed: ReadonlyMap<string, Entry | undefined>): Entry[] {
  const rest = latest_first.filter(({ flight }) => !changed.has(flight.id));
  const put = [...changed.values()].filter((entry) => entry !== undefined);
  if (put.length > many) return [...rest, ...put].sort(by_time);
  for (const entry of put) rest.splice(first_of(rest, (each) => by_time(each, entry) > 0), 0, entry);
  return rest;
}

/** What the page holds of a long log: whole days of the latest flights, and all that the workshop has not. */
export function recent(latest_first: readonly Entry[], most: number): Entry[] {
  if (latest_first.length <= most) return [...latest_first];
  const last = day_of(latest_first[most - 1]!.flight);
  let end = most;
  while (end < latest_first.length && last !== '' && day_of(latest_first[end]!.flight) === last) ++end;
  return latest_first.filter(({ state }, at) => at < end || state !== 'kept');
}

/** In the order flown, for files and codes; what has no date stands last. */
export function in_order_flown(latest_first: readonly Entry[]): LoggedFlight[] {
  const flown = latest_first.map(({ flight }) => flight).reverse();
  return [...flown.filter(({ time }) => time), ...flown.filter(({ time }) => !time)];
}

/** The entries of one day, in an ordered list. */
function of_one_day(latest_first: readonly Entry[], day: string): readonly Entry[] {
  return latest_first.slice(first_of(latest_first, ({ flight }) => day_of(flight) <= day), first_of(latest_first, ({ flight }) => day_of(flight) < day));
}

/** A flight's number in its day, by which it is called; an old log taken in does not move it. 0 for what has no date. A motor that broke is no flight. `count`: of so many only, from the latest. */
export function numbers_in_day(latest_first: readonly Entry[], count = latest_first.length): Map<string, number> {
  const flown = new Map<string, number>(), numbers = new Map<string, number>();
  const last = latest_first[count - 1];
  const end = last ? first_of(latest_first, ({ flight }) => day_of(flight) < day_of(last.flight)) : latest_first.length;
  for (const { flight } of latest_first.slice(0, end).reverse()) {
    if (is_break(flight)) continue;
    const day = day_of(flight);
    flown.set(day, (flown.get(day) ?? 0) + 1);
    numbers.set(flight.id, day === '' ? 0 : flown.get(day)!);
  }
  return numbers;
}

/** The same of one flight. */
export function number_in_day(latest_first: readonly Entry[], flight: LoggedFlight): number {
  return numbers_in_day(of_one_day(latest_first, day_of(flight))).get(flight.id) ?? 0;
}

/** Flights logged on that day. */
export const flown_on = (latest_first: readonly Entry[], day: string): number => of_one_day(latest_first, day).filter(({ flight }) => !is_break(flight)).length;

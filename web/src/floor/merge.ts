// Two logs become one: by id, nothing twice, nothing lost.
import { day_of, is_break, same_flight, type LoggedFlight } from './flight';
import type { FlightRow, Merged } from './remote';
import type { Entry } from './shelf';

export type TakenIn = { entries: Entry[]; added: number; same: number; differing: number };

/** Flights out of a file among those that are here. A flight that is here with another content becomes a conflict. */
export function take_in(here: readonly Entry[], flights: readonly LoggedFlight[]): TakenIn {
  const known = new Map(here.map((entry) => [entry.flight.id, entry]));
  const report: TakenIn = { entries: [], added: 0, same: 0, differing: 0 };
  for (const flight of flights) {
    const entry = known.get(flight.id);
    if (entry && same_flight(entry.flight, flight)) {
      ++report.same;
      continue;
    }
    if (entry) ++report.differing;
    else ++report.added;
    // What was changed without sight of the workshop's state is sent without a base: the workshop shows both.
    const next: Entry = { flight, state: 'waiting', base: null };
    known.set(flight.id, next);
    report.entries.push(next);
  }
  return report;
}

/** What became of one entry that was sent as `sent`; it may have been changed here meanwhile. */
export function answered(now: Entry, sent: LoggedFlight, merged: Merged): Entry {
  const changed_meanwhile = !same_flight(now.flight, sent);
  if (merged.done === 'conflict' && merged.present) {
    return { flight: now.flight, state: 'conflict', base: now.base, present: merged.present };
  }
  return { flight: now.flight, state: changed_meanwhile ? 'waiting' : 'kept', base: merged.revision };
}

/** A row read from the workshop beside what is here: what waits here is left alone. */
export function read_row(here: Entry | undefined, row: FlightRow): Entry | null {
  if (!here) return { flight: row.flight, state: 'kept', base: row.revision };
  if (here.state !== 'kept' || (here.base ?? 0) >= row.revision) return null;
  return { flight: row.flight, state: 'kept', base: row.revision };
}

/** By time, the latest first; what has no date stands last, here as in the verdict. */
export const by_time = (a: Entry, b: Entry): number =>
  (b.flight.time ?? '').localeCompare(a.flight.time ?? '') || b.flight.id.localeCompare(a.flight.id);

/** In the order flown, for files and codes; what has no date stands last. */
export function in_order_flown(latest_first: readonly Entry[]): LoggedFlight[] {
  const flown = latest_first.map(({ flight }) => flight).reverse();
  return [...flown.filter(({ time }) => time), ...flown.filter(({ time }) => !time)];
}

/** A flight's number in its day, by which it is called; an old log taken in does not move it. 0 for what has no date. A motor that broke is no flight. */
export function numbers_in_day(latest_first: readonly Entry[]): Map<string, number> {
  const flown = new Map<string, number>(), numbers = new Map<string, number>();
  for (const flight of in_order_flown(latest_first)) {
    if (is_break(flight)) continue;
    const day = day_of(flight);
    flown.set(day, (flown.get(day) ?? 0) + 1);
    numbers.set(flight.id, day === '' ? 0 : flown.get(day)!);
  }
  return numbers;
}

/** Flights logged on that day. */
export const flown_on = (entries: readonly Entry[], day: string): number => entries.filter(({ flight }) => day_of(flight) === day && !is_break(flight)).length;

// What this browser took in out of files: a flight that still is as it came is corrected when its file is read another way;
// one that was put right by hand meanwhile is not overwritten.
import { digest } from './digest';
import { same_flight, tidy, type LoggedFlight } from './flight';
import type { Entry } from './shelf';

const key = 'propwright-floor-imported';
/** More than the log of a lifetime. */
const most = 10000;

/** By id: a mark of the content that a flight came with. */
export type Taken = Record<string, string>;
export const mark_of = (flight: LoggedFlight): string => digest(JSON.stringify(tidy(flight)));

/** Each flight by its id, with a mark of its content. */
export const as_taken = (flights: readonly LoggedFlight[]): Taken => Object.fromEntries(flights.map((flight) => [flight.id, mark_of(flight)]));

class Imports {
  #taken: Taken | null = null;

  get taken(): Taken {
    if (this.#taken === null) {
      try {
        this.#taken = (JSON.parse(localStorage.getItem(key) ?? '{}') as Taken | null) ?? {};
      } catch {
        this.#taken = {};
      }
    }
    return this.#taken;
  }

  remember(taken: Taken): void {
    const all = Object.entries({ ...this.taken, ...taken });
    this.#taken = Object.fromEntries(all.slice(-most));
    try {
      localStorage.setItem(key, JSON.stringify(this.#taken));
    } catch {
      // Storage off or full: a second reading is shown beside the first, in the workshop.
    }
  }
}

export const imports = new Imports();

/**
 * Those of the file that are here with another content and stand as they came; `base`, `taken`: the revision they are changed from, and what it holds.
 * Where this browser did not take them in itself, the first revision is the one they came with.
 */
export function correcting(here: readonly Entry[], flights: readonly LoggedFlight[], taken: Taken = imports.taken): { flight: LoggedFlight; base: number | null; taken: LoggedFlight }[] {
  const known = new Map(here.map((entry) => [entry.flight.id, entry]));
  return flights.flatMap((flight) => {
    const entry = known.get(flight.id);
    if (!entry || (entry.state !== 'kept' && entry.state !== 'waiting') || same_flight(entry.flight, flight)) return [];
    const mark = taken[flight.id];
    const as_it_came = mark === undefined ? entry.base === 1 : mark === mark_of(entry.flight);
    return as_it_came ? [{ flight, base: entry.base, taken: entry.flight }] : [];
  });
}

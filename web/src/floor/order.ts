// Which propellers and motors are at hand, and which propeller is next in a fair order: A B B A.
import { named_by, type Told } from './contender';
import { day_of, flags_of, type LoggedFlight } from './flight';

export type Switched = 'propeller' | 'motor';

/** What belongs to the propeller or to the motor, and changes with it. */
const own_columns = {
  propeller: ['setting', 'ballast_kg'],
  motor: ['batch', 'motor_mass_kg', 'motor_section_m2', 'motor_length_m', 'spacer_mass_kg', 'motor_part', 'wind_number'],
} as const;

const most = 3;

type Named = (flight: Told) => string | undefined;
const name_of = (flight: Partial<LoggedFlight>, what: Switched, named: Named): string | undefined => (what === 'propeller' ? named(flight) : flight.motor);

/**
 * Those used last, the one in hand among them; each keeps its place from flight to flight. Settings of one propeller stand
 * each for itself. `flights`: the latest first.
 */
export function at_hand(flights: readonly LoggedFlight[], what: Switched, in_hand: string | undefined, named: Named = named_by(flights)): string[] {
  const names = new Set<string>(in_hand ? [in_hand] : []);
  for (const flight of flights) {
    if (names.size >= most) break;
    const name = name_of(flight, what, named);
    if (name) names.add(name);
  }
  return [...names].sort((a, b) => a.localeCompare(b, 'en', { numeric: true }));
}

/**
 * The columns that go with the change to `name`: as it was flown last; what is not known of it is emptied, so that none of
 * them stays of the one before. `unnamed`: nothing had a name, and what is entered is of the one that gets it now.
 */
export function switched(flights: readonly LoggedFlight[], what: Switched, name: string, unnamed = false, named: Named = named_by(flights)): Partial<LoggedFlight> {
  const last = name === '' ? undefined : flights.find((flight) => name_of(flight, what, named) === name);
  const columns: Record<string, unknown> = { [what]: last?.[what] ?? (name === '' ? undefined : name) };
  for (const column of own_columns[what]) if (!unnamed || last?.[column] !== undefined) columns[column] = last?.[column];
  if (last?.wind_number !== undefined && what === 'motor') columns.wind_number = last.wind_number + 1;
  return columns as Partial<LoggedFlight>;
}

const counts = (flight: LoggedFlight): boolean => !flags_of(flight).some((flag) => flag !== 'steered');

/**
 * The propeller that a fair order has next on `day`: the one flown least that day; of several the one flown last, so
 * that two go A B B A; the verdict's order is the same. Null until two have been flown. A flight that was aborted or hung up is
 * flown again.
 */
export function next_in_order(flights: readonly LoggedFlight[], day: string, named: Named = named_by(flights)): string | null {
  const flown = new Map<string, number>();
  for (const flight of flights) {
    const name = day_of(flight) === day && counts(flight) ? named(flight) : undefined;
    if (name) flown.set(name, (flown.get(name) ?? 0) + 1);
  }
  if (flown.size < 2) return null;
  const fewest = Math.min(...flown.values());
  // The map is in order of the latest flight of each.
  return [...flown].find(([, count]) => count === fewest)![0];
}

// Which propellers and motors are at hand, and which propeller is next in a fair order: A B B A.
import { day_of, flags_of, type LoggedFlight } from './flight';

export type Switched = 'propeller' | 'motor';

/** What belongs to the propeller or to the motor, and changes with it. */
const own_columns = {
  propeller: ['setting', 'ballast_kg'],
  motor: ['batch', 'motor_mass_kg', 'motor_section_m2', 'motor_length_m', 'spacer_mass_kg', 'motor_part', 'wind_number'],
} as const;

const most = 3;

/** Those used last, the one in hand among them; each keeps its place from flight to flight. `flights`: the latest first. */
export function at_hand(flights: readonly LoggedFlight[], what: Switched, in_hand: string | undefined): string[] {
  const names = new Set<string>(in_hand ? [in_hand] : []);
  for (const flight of flights) {
    if (names.size >= most) break;
    if (flight[what]) names.add(flight[what]);
  }
  return [...names].sort((a, b) => a.localeCompare(b, 'en', { numeric: true }));
}

/**
 * The columns that go with the change to `name`: as it was flown last; what is not known of it is emptied, so that none of
 * them stays of the one before. `unnamed`: nothing had a name, and what is entered is of the one that gets it now.
 */
export function switched(flights: readonly LoggedFlight[], what: Switched, name: string, unnamed = false): Partial<LoggedFlight> {
  const last = name === '' ? undefined : flights.find((flight) => flight[what] === name);
  const columns: Record<string, unknown> = { [what]: name === '' ? undefined : name };
  for (const column of own_columns[what]) if (!unnamed || last?.[column] !== undefined) columns[column] = last?.[column];
  if (last?.wind_number !== undefined && what === 'motor') columns.wind_number = last.wind_number + 1;
  return columns as Partial<LoggedFlight>;
}

const counts = (flight: LoggedFlight): boolean => !flags_of(flight).some((flag) => flag !== 'steered');

/**
 * The propeller that a fair order has next on `day`: the one flown least that day; of several the one flown last, so
 * that two go A B B A. Null until two have been flown. A flight that was aborted or hung up is flown again.
 */
export function next_in_order(flights: readonly LoggedFlight[], day: string): string | null {
  const flown = new Map<string, number>();
  for (const flight of flights) if (day_of(flight) === day && flight.propeller && counts(flight)) flown.set(flight.propeller, (flown.get(flight.propeller) ?? 0) + 1);
  if (flown.size < 2) return null;
  const fewest = Math.min(...flown.values());
  // The map is in order of the latest flight of each.
  return [...flown].find(([, count]) => count === fewest)![0];
}

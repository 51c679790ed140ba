// A flight as it is logged: the columns of the flight log file (docs/flight-log-file.md), SI, what is not
// known left out. The same table goes into the queue of this browser, to the workshop and into a file.
import type { components } from '../../generated/schema';

export type LoggedFlight = components['schemas']['LoggedFlight'];
export type Column = keyof LoggedFlight;

type Described = { name: Column; words: string; range?: readonly [number, number] };

/** In the order of the file; numbers have the range in which they are believed. */
export const columns: readonly Described[] = [
  { name: 'id', words: 'id of the entry' },
  { name: 'time', words: 'date and time of launch' },
  { name: 'session', words: 'visit to a hall' },
  { name: 'model', words: 'model' },
  { name: 'propeller', words: 'propeller' },
  { name: 'setting', words: 'setting' },
  { name: 'motor', words: 'motor' },
  { name: 'batch', words: 'rubber batch' },
  { name: 'wind_number', words: 'wind number of the motor', range: [1, 500] },
  { name: 'turns_wound', words: 'turns wound', range: [1, 10000] },
  { name: 'turns_at_launch', words: 'turns at launch', range: [1, 10000] },
  { name: 'turns_left', words: 'turns left', range: [0, 10000] },
  { name: 'torque_wound_Nm', words: 'greatest torque while winding', range: [1e-5, 0.1] },
  { name: 'launch_torque_Nm', words: 'launch torque', range: [1e-5, 0.1] },
  { name: 'wait_s', words: 'wait before launch', range: [0, 3600] },
  { name: 'duration_s', words: 'time flown', range: [1, 7200] },
  { name: 'top_height_m', words: 'top height', range: [0.3, 120] },
  { name: 'top_time_s', words: 'time to the top', range: [0, 7200] },
  { name: 'touches', words: 'touches of the roof', range: [0, 200] },
  { name: 'steers', words: 'steers', range: [0, 200] },
  { name: 'mean_rev_per_s', words: 'revolutions', range: [0.2, 20] },
  { name: 'mean_rev_sigma_per_s', words: 'their standard error', range: [0, 5] },
  { name: 'mean_rev_time_s', words: 'time of the taps from launch', range: [0, 7200] },
  { name: 'roof_m', words: 'roof height', range: [2, 120] },
  { name: 'launch_height_m', words: 'launch height', range: [0, 20] },
  { name: 'temperature_K', words: 'temperature', range: [253, 323] },
  { name: 'pressure_Pa', words: 'air pressure', range: [60000, 110000] },
  { name: 'humidity', words: 'humidity', range: [0, 1] },
  { name: 'model_mass_kg', words: 'model mass without rubber', range: [0.0001, 0.05] },
  { name: 'ballast_kg', words: 'ballast', range: [0, 0.01] },
  { name: 'motor_mass_kg', words: 'motor mass', range: [0.00001, 0.05] },
  { name: 'motor_section_m2', words: 'motor section', range: [1e-8, 1e-4] },
  { name: 'motor_length_m', words: 'loop length', range: [0.01, 5] },
  { name: 'spacer_mass_kg', words: 'spacer mass', range: [0, 0.05] },
  { name: 'motor_part', words: 'part of a full motor', range: [0.1, 1] },
  { name: 'expected_s', words: 'expected time', range: [1, 7200] },
  { name: 'weight', words: 'weight in comparisons', range: [0, 1] },
  { name: 'flag', words: 'flag' },
  { name: 'reason', words: 'reason of the flag' },
  { name: 'notes', words: 'notes' },
];

const by_name = new Map(columns.map((column) => [column.name as string, column]));
export const column_of = (name: string): Described | undefined => by_name.get(name);
export const is_number_column = (name: string): boolean => by_name.get(name)?.range !== undefined;

export const flags = ['aborted', 'steered', 'hang_up', 'left_out'] as const;
export type Flag = (typeof flags)[number];
export const flags_of = (flight: LoggedFlight): Flag[] => flags.filter((flag) => (flight.flag ?? '').split(';').includes(flag));

/** The reason of a line that is no flight: a motor that broke while it was wound. */
export const broke_reason = 'motor broke while winding';
export const is_break = (flight: LoggedFlight): boolean => flight.reason === broke_reason && flight.duration_s === undefined;

/** Without what is empty, in the order of the file: equal flights are equal text. */
export function tidy(flight: Partial<LoggedFlight>): LoggedFlight {
  const table: Record<string, unknown> = {};
  for (const { name } of columns) {
    const value = flight[name];
    if (value !== undefined && value !== null && value !== '' && !(typeof value === 'number' && !Number.isFinite(value))) table[name] = value;
  }
  return table as LoggedFlight;
}

export const same_flight = (a: LoggedFlight, b: LoggedFlight): boolean => JSON.stringify(tidy(a)) === JSON.stringify(tidy(b));

/** Made where the flight is logged, so that it is the same flight wherever it turns up. */
export function new_id(now_ms: number): string {
  const bytes = crypto.getRandomValues(new Uint8Array(8));
  return `f${now_ms.toString(36)}-${[...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('')}`;
}

/** "2026-11-21"; "" for a flight without a date. */
export const day_of = (flight: Partial<LoggedFlight>): string => (flight.time ?? '').slice(0, 10);

/** "2026-11-21T14:05:30", by this device's own clock and zone: what stands on the wall of the hall. */
export function local_time(ms: number): string {
  const at = new Date(ms);
  const two = (value: number) => String(value).padStart(2, '0');
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}T${two(at.getHours())}:${two(at.getMinutes())}:${two(at.getSeconds())}`;
}

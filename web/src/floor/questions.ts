// What looks wrong in a flight, asked while it can still be answered. The workshop asks the same of every
// flight that comes in (docs/flight-log-file.md); here it is asked without a network.
import { column_of_field, two_counts, unread_notes, type Draft } from './draft';
import { as_either } from './dates';
import { column_of, columns, type Column, type LoggedFlight } from './flight';
import { two_ways } from './stopwatch';

export type Question = {
  column: Column;
  words: string;
  /** True: the value is dropped when the flight is kept with it unanswered. */
  drops: boolean;
};

/** Turns a second that no such propeller reaches in the mean. */
const most_rev_per_s = 20;

function ranges(flight: LoggedFlight): Question[] {
  return columns.flatMap(({ name, words, range }) => {
    const value = flight[name];
    if (!range || typeof value !== 'number' || (value >= range[0] && value <= range[1])) return [];
    return [{ column: name, words: `${words} can hardly be so ${value < range[0] ? 'little' : 'much'}`, drops: true }];
  });
}

/** As percent typed for a share, or a share for percent. */
export function dry_words(humidity: number): string | null {
  if (humidity < 0 || humidity >= 0.01) return null;
  const percent = Number((humidity * 100).toPrecision(3));
  return `${percent}\u00a0% humidity is very dry${percent > 0 ? ` (${Number((percent * 100).toPrecision(3))}\u00a0%?)` : ''}`;
}

function air({ humidity }: LoggedFlight): Question[] {
  const words = humidity === undefined ? null : dry_words(humidity);
  return words === null ? [] : [{ column: 'humidity', words, drops: true }];
}

function turns(flight: LoggedFlight): Question[] {
  const { turns_wound, turns_at_launch, turns_left, torque_wound_Nm, launch_torque_Nm, duration_s } = flight;
  const asked: Question[] = [];
  const launch = turns_at_launch ?? turns_wound;
  const left_too_many = turns_left !== undefined && launch !== undefined && turns_left > launch;
  if (left_too_many) asked.push({ column: 'turns_left', words: `more turns left than the ${Math.round(launch)} at launch`, drops: true });
  if (turns_at_launch !== undefined && turns_wound !== undefined && turns_at_launch > turns_wound) {
    asked.push({ column: 'turns_at_launch', words: 'more turns at launch than were wound', drops: true });
  }
  if (launch_torque_Nm !== undefined && torque_wound_Nm !== undefined && launch_torque_Nm > torque_wound_Nm) {
    asked.push({ column: 'launch_torque_Nm', words: 'more torque at launch than while winding', drops: true });
  }
  if (launch !== undefined && turns_left !== undefined && !left_too_many && duration_s !== undefined && duration_s > 0) {
    const mean = (launch - turns_left) / duration_s;
    if (mean > most_rev_per_s) asked.push({ column: 'duration_s', words: `so many turns in this time would be ${Math.round(mean)} a second`, drops: true });
  }
  return asked;
}

function heights({ top_height_m, roof_m, top_time_s, mean_rev_time_s, duration_s }: LoggedFlight): Question[] {
  const asked: Question[] = [];
  if (top_height_m !== undefined && roof_m !== undefined && top_height_m > roof_m * 1.001) {
    asked.push({ column: 'top_height_m', words: 'higher than the roof', drops: true });
  }
  if (top_time_s !== undefined && duration_s !== undefined && top_time_s > duration_s) {
    asked.push({ column: 'top_time_s', words: 'at the top after the landing', drops: true });
  }
  if (mean_rev_time_s !== undefined && duration_s !== undefined && mean_rev_time_s > duration_s) {
    asked.push({ column: 'mean_rev_time_s', words: 'tapped after the landing', drops: true });
  }
  return asked;
}

/** A motor of half the length runs half as long: what is at the edge for a full one is over it. */
function part({ motor_part, duration_s }: LoggedFlight): Question[] {
  const longest = column_of('duration_s')!.range![1];
  if (motor_part === undefined || duration_s === undefined || motor_part >= 1 || motor_part <= 0) return [];
  if (duration_s / motor_part <= longest) return [];
  return [{ column: 'duration_s', words: `so long on ${motor_part} of a motor would be ${Math.round(duration_s / motor_part)}\u00a0s on the full one`, drops: true }];
}

/** A name that is wanting is unknown already: told, so that it is not forgotten. */
function wanting(flight: LoggedFlight): Question[] {
  const asked: Question[] = [];
  if (!flight.propeller) asked.push({ column: 'propeller', words: 'no propeller is named', drops: false });
  if (!flight.motor) asked.push({ column: 'motor', words: 'no motor is named', drops: false });
  if (flight.duration_s === undefined) asked.push({ column: 'duration_s', words: 'no time is known', drops: false });
  return asked;
}

/** A time such as 12.48, a date such as 11/02/2026. */
const reads_twice = (field: string, text: string): boolean => (field === 'duration_s' && two_ways(text) !== null) || (field === 'time' && as_either(text) !== null);

/** Of the flight in hand: first what was typed and not understood, then what can hardly be. */
export function questions_of(draft: Draft, row: LoggedFlight): Question[] {
  const unread = Object.entries(draft.unread).map(([field, text]): Question => {
    const column = column_of_field(field) as Column;
    return { column, words: `${field === 'turns_out' ? 'turns backed off' : column_of(column)?.words ?? column}, "${text}" ${reads_twice(field, text) ? 'can be read in two ways' : 'is not understood'}`, drops: true };
  });
  return once([...unread, ...clock(draft), ...questions(row)]);
}

/** The clock of the device was set while the flight was in the air: nobody but the builder knows which is right. */
function clock(draft: Draft): Question[] {
  const both = two_counts(draft);
  return both ? [{ column: 'duration_s', words: `the clock of this device says ${both.clock}, the page counted ${both.page}: the clock was set meanwhile, or this device slept`, drops: true }] : [];
}

const once = (all: Question[]): Question[] => all.filter(({ column }, index) => all.findIndex((other) => other.column === column) === index);

/** The row of the flight in hand as it is kept: what is questioned or not understood is unknown, and stands in the notes. */
export function kept_row(draft: Draft, row: LoggedFlight): LoggedFlight {
  const both = two_counts(draft);
  const kept = without_questioned(row);
  if (both) delete kept.duration_s;
  const told = [...(both ? [`time flown ${both.clock} by the clock, ${both.page} by the page's own count`] : []), ...unread_notes(draft, (column) => column_of(column)?.words ?? column)];
  return told.length === 0 ? kept : { ...kept, notes: [kept.notes, ...told].filter(Boolean).join('; ') };
}

/** One question a column, the first. */
export function questions(flight: LoggedFlight): Question[] {
  const all = [...ranges(flight), ...air(flight), ...turns(flight), ...heights(flight), ...part(flight), ...wanting(flight)];
  return once(all);
}

/** The flight with what is not believed left unknown; what stood there goes into the notes, so that it is not lost. */
export function without_questioned(flight: LoggedFlight): LoggedFlight {
  const next: Record<string, unknown> = { ...flight };
  const told: string[] = [];
  for (const { column, drops } of questions(flight)) {
    if (!drops) continue;
    told.push(`${column_of(column)!.words} noted as ${String(flight[column])}, not believed`);
    delete next[column];
  }
  if (told.length > 0) next.notes = [flight.notes, ...told].filter(Boolean).join('; ');
  return next as LoggedFlight;
}

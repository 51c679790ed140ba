// What looks wrong in a flight, asked while it can still be answered. The workshop asks the same of every
// flight that comes in (docs/flight-log-file.md); here it is asked without a network.
import { column_of, columns, type Column, type LoggedFlight } from './flight';

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

function heights({ top_height_m, roof_m, top_time_s, duration_s }: LoggedFlight): Question[] {
  const asked: Question[] = [];
  if (top_height_m !== undefined && roof_m !== undefined && top_height_m > roof_m * 1.001) {
    asked.push({ column: 'top_height_m', words: 'higher than the roof', drops: true });
  }
  if (top_time_s !== undefined && duration_s !== undefined && top_time_s > duration_s) {
    asked.push({ column: 'top_time_s', words: 'at the top after the landing', drops: true });
  }
  return asked;
}

/** A name that is wanting is unknown already: told, so that it is not forgotten. */
function wanting(flight: LoggedFlight): Question[] {
  const asked: Question[] = [];
  if (!flight.propeller) asked.push({ column: 'propeller', words: 'no propeller is named', drops: false });
  if (!flight.motor) asked.push({ column: 'motor', words: 'no motor is named', drops: false });
  if (flight.duration_s === undefined) asked.push({ column: 'duration_s', words: 'no time is known', drops: false });
  return asked;
}

/** One question a column, the first. */
export function questions(flight: LoggedFlight): Question[] {
  const all = [...ranges(flight), ...turns(flight), ...heights(flight), ...wanting(flight)];
  return all.filter(({ column }, index) => all.findIndex((other) => other.column === column) === index);
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

// Old logs: the rows of a builder's own table as flights, and what in them could not be understood.
import type { Table } from './csv';
import type { DateOrder } from './dates';
import { is_number_column, tidy, type LoggedFlight } from './flight';
import { digest } from './digest';
import { two_ways } from './stopwatch';
import { count, number, seconds_of_minutes, target_of, type Target } from './targets';

export type Mapped = { flights: LoggedFlight[]; not_understood: string[] };

const turns_columns = ['turns_wound', 'turns_at_launch', 'turns_left'] as const;

const exact = (value: number): number => Number(value.toPrecision(12));

/**
 * Turns of the winder become turns of the motor, those backed off become those left at launch. Where nobody knows from how many they
 * were let out, they say nothing by themselves and go into the notes (as the command does it, src/logbook/read.cpp): then it is false.
 */
function motor_turns(flight: Record<string, unknown>, out: number | undefined, ratio: number): boolean {
  const { turns_wound: wound, turns_at_launch: launch } = flight;
  for (const name of turns_columns) if (typeof flight[name] === 'number') flight[name] = exact(flight[name] * ratio);
  if (out === undefined || (typeof wound === 'number' && typeof launch === 'number')) return true;
  if (typeof wound === 'number') flight.turns_at_launch = exact((wound - out) * ratio);
  else if (typeof launch === 'number') flight.turns_wound = exact((launch + out) * ratio);
  else {
    flight.notes = [flight.notes, `turns backed off ${exact(out * ratio)}, turns wound not known`].filter(Boolean).join('; ');
    return false;
  }
  return true;
}

/**
 * The id of a row that has none, of its cells as they stand in the file: RowIds of src/logbook, which says what is hashed.
 * tests/logbook/row_ids.json holds the two together.
 */
export function row_ids(rows: readonly { cells: readonly string[] }[]): string[] {
  const seen = new Map<string, number>();
  return rows.map(({ cells }) => {
    const content = JSON.stringify(cells.map((cell) => cell.trim()));
    const before = seen.get(content) ?? 0;
    seen.set(content, before + 1);
    return `log-${digest(`${content}#${before}`)}`;
  });
}

/** How times such as "7.27" are meant; `asked`: they are left unknown until somebody says. */
export type Dotted = 'asked' | 'minutes' | 'seconds';

const whole = ['wind_number', 'turns_wound', 'turns_at_launch', 'turns_left', 'touches', 'steers'];
/** In the flight log file numbers are bare and in SI; a comma in whole counts parts thousands, there as everywhere. */
const bare = (column: string) => (cell: string) => (whole.includes(column) && cell.includes(',') ? count(cell) : number(cell));
const reader = (to: Target, title: string): Target['read'] => (title === to.key && to.column === title && is_number_column(title) && title !== 'duration_s' ? bare(title) : to.read);

/** The heading itself says that its numbers are seconds. */
const in_seconds = (title: string): boolean => /_s$|\bsec(onds?|s)?\b|[([,/]\s*s\s*[)\]]?$/i.test(title.trim());

/** Times of the table that may be minutes with seconds, or seconds. */
export function dotted_times(table: Table, keys: readonly string[]): string[] {
  return keys.flatMap((key, at) => (is_timed(target_of(key)) && !in_seconds(table.head[at]!) ? table.rows.map(({ cells }) => cells[at] ?? '').filter((cell) => two_ways(cell) !== null) : []));
}
const is_timed = (to: Target | undefined): boolean => to?.column === 'duration_s' || to?.column === 'top_time_s';

type Told = { value: string | number | undefined; words: string };
function told(to: Target, title: string, cell: string, dates: DateOrder, dotted: Dotted): Told {
  const either = is_timed(to) && !in_seconds(title) && dotted !== 'seconds' ? two_ways(cell) : null;
  if (!either) return { value: reader(to, title.trim())(cell, dates), words: cell.slice(0, 60) };
  return { value: dotted === 'minutes' ? seconds_of_minutes(either.minutes) : undefined, words: `${cell} is ${either.minutes} or ${either.seconds}` };
}

/** The time of day joined to the date; alone it tells no order. */
function joined(flight: Record<string, unknown>, of_day: string | undefined): boolean {
  if (of_day === undefined) return true;
  if (typeof flight.time !== 'string') return false;
  if (flight.time.length === 10) flight.time = `${flight.time}T${of_day}`;
  return true;
}

/**
 * A row that has no id gets one of its cells as they stand in the file: the same log taken in twice is taken in once, and
 * read another way it is corrected.
 */
export function mapped(table: Table, keys: readonly string[], winder_ratio = 1, dates: DateOrder = 'day', dotted: Dotted = 'asked'): Mapped {
  const not_understood: string[] = [];
  const ids = row_ids(table.rows);
  const flights = table.rows.map(({ line, cells }, row) => {
    const flight: Record<string, unknown> = {};
    let out: number | undefined, of_day: string | undefined;
    const surplus = cells.slice(table.head.length).filter((cell) => cell.trim() !== '');
    if (surplus.length > 0) not_understood.push(`line ${line}, more cells than headings: ${surplus.join(', ').slice(0, 60)}`);
    keys.forEach((key, at) => {
      const written = cells[at] ?? '', to = target_of(key);
      const cell = to && is_number_column(to.column) ? written.trim() : written;
      if (!to || cell === '') return;
      const { value, words } = told(to, table.head[at]!, cell, dates, dotted);
      if (value === undefined) not_understood.push(`line ${line}, ${table.head[at]}: ${words}`);
      else if (to.backed_off) out = Number(value);
      else if (to.of_day) of_day = String(value);
      else flight[to.column] = value;
    });
    if (!joined(flight, of_day)) not_understood.push(`line ${line}: the time of day ${of_day} without a date`);
    if (!motor_turns(flight, out, winder_ratio)) not_understood.push(`line ${line}: ${out} turns backed off, of how many is not known; they stand in the notes`);
    const id = typeof flight.id === 'string' && /^[a-z0-9_-]{1,64}$/.test(flight.id) ? flight.id : ids[row]!;
    return tidy({ ...flight, id });
  });
  return { flights, not_understood };
}

/** How many are the same flight as one that is here under another id: the same launch, propeller and time flown. */
export function doubles(flights: readonly LoggedFlight[], here: readonly LoggedFlight[]): number {
  const mark = ({ time, propeller, duration_s }: LoggedFlight) => (time && duration_s !== undefined ? JSON.stringify([time.slice(0, 16), propeller ?? '', duration_s]) : null);
  const ids = new Set(here.map(({ id }) => id));
  const known = new Set(here.map(mark));
  return flights.filter((flight) => !ids.has(flight.id) && mark(flight) !== null && known.has(mark(flight))).length;
}

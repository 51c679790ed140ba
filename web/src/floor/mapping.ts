// Old logs: the rows of a builder's own table as flights, and what in them could not be understood.
import type { Table } from './csv';
import type { DateOrder } from './dates';
import { is_number_column, tidy, type LoggedFlight } from './flight';
import { number, target_of, type Target } from './targets';

/** 53 bits of a text, the same on every device (Jenkins's one-at-a-time, twice). */
function digest(words: string): string {
  const mix = (seed: number) => {
    let hash = seed;
    for (let at = 0; at < words.length; ++at) {
      hash = Math.imul(hash + words.charCodeAt(at), 1025);
      hash ^= hash >>> 6;
    }
    hash = Math.imul(hash, 9);
    hash ^= hash >>> 11;
    return (Math.imul(hash, 32769) >>> 0).toString(16).padStart(8, '0');
  };
  return mix(17) + mix(7919);
}

export type Mapped = { flights: LoggedFlight[]; not_understood: string[] };

const turns_columns = ['turns_wound', 'turns_at_launch', 'turns_left'] as const;

/** Turns of the winder become turns of the motor, those backed off become those left at launch. */
function motor_turns(flight: Record<string, unknown>, out: number | undefined, ratio: number): void {
  if (out !== undefined && typeof flight.turns_wound === 'number') flight.turns_at_launch = flight.turns_wound - out;
  for (const name of turns_columns) if (typeof flight[name] === 'number') flight[name] = flight[name] * ratio;
}

/** In the flight log file numbers are bare and in SI. */
const reader = (to: Target, title: string): Target['read'] => (title === to.key && to.column === title && is_number_column(title) && title !== 'duration_s' ? number : to.read);

/** The time of day joined to the date; alone it tells no order. */
function joined(flight: Record<string, unknown>, of_day: string | undefined): boolean {
  if (of_day === undefined) return true;
  if (typeof flight.time !== 'string') return false;
  if (flight.time.length === 10) flight.time = `${flight.time}T${of_day}`;
  return true;
}

/** A row that has no id gets one of its own content: the same log taken in twice is taken in once. */
export function mapped(table: Table, keys: readonly string[], winder_ratio = 1, dates: DateOrder = 'day'): Mapped {
  const not_understood: string[] = [];
  const seen = new Map<string, number>();
  const flights = table.rows.map(({ line, cells }) => {
    const flight: Record<string, unknown> = {};
    let out: number | undefined, of_day: string | undefined;
    keys.forEach((key, at) => {
      const cell = cells[at] ?? '', to = target_of(key);
      if (!to || cell === '') return;
      const value = reader(to, table.head[at]!.trim())(cell, dates);
      if (value === undefined) not_understood.push(`line ${line}, ${table.head[at]}: ${cell.slice(0, 60)}`);
      else if (to.backed_off) out = Number(value);
      else if (to.of_day) of_day = String(value);
      else flight[to.column] = value;
    });
    if (!joined(flight, of_day)) not_understood.push(`line ${line}: the time of day ${of_day} without a date`);
    motor_turns(flight, out, winder_ratio);
    const content = JSON.stringify(tidy(flight));
    const before = seen.get(content) ?? 0;
    seen.set(content, before + 1);
    const id = typeof flight.id === 'string' && /^[a-z0-9_-]{1,64}$/.test(flight.id) ? flight.id : `log-${digest(`${content}#${before}`)}`;
    return tidy({ ...flight, id });
  });
  return { flights, not_understood };
}

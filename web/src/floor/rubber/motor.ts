// A motor as its record holds it, with the winds of the log among its own, made into the tables of a question.
import type { LoggedMotor } from '../../api/rubber';
import type { JobTable, JobValue } from '../../api/types';
import { is_blank } from '../../bench/kit/blank';
import { cleaned, part_of, rows_in } from '../../bench/kit/question';
import type { Content } from '../../bench/kit/records';
import type { LoggedFlight } from '../flight';
import { batch_question, winds_question } from './batch';

/** `logged`: of the log, where it is corrected; `place`: in the record's own winds, from 1. */
export type Wind = { table: JobTable; time: string; place: number | null; logged: LoggedFlight | null };

const asked_of_wind = ['turns', 'torque', 'rested_length', 'rest_before'];
const hour_ms = 3600_000;

/** Milliseconds of a day with its time, "2026-11-21T14:05"; null for a day alone: a rest is not known from it. */
function instant(time: string): number | null {
  const at = /^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}/.test(time) ? Date.parse(time.replace(' ', 'T')) : NaN;
  return Number.isFinite(at) ? at : null;
}

/** In order of time; those without a day stay where they were entered, after the ones before them. */
export function winds_of(history: JobTable, flights: readonly LoggedFlight[]): Wind[] {
  const own: Wind[] = rows_in(history, 'winds').map((table, at) => ({ table, time: is_blank(table.time) ? '' : String(table.time), place: at + 1, logged: null }));
  const flown: Wind[] = flights.filter(({ turns_wound }) => turns_wound !== undefined && turns_wound > 0).map((flight) => ({
    table: { turns: flight.turns_wound!, ...(flight.torque_wound_Nm === undefined ? {} : { torque: `${Number((flight.torque_wound_Nm * 1000).toPrecision(6))} mN.m` }) },
    time: flight.time ?? '', place: null, logged: flight,
  }));
  let last = '';
  const keyed = [...own, ...flown].map((wind, at) => {
    if (wind.place !== null) last = wind.time || last;
    return { wind, at, key: (wind.time || (wind.place !== null ? last : '')).replace(' ', 'T') };
  });
  return keyed.sort((a, b) => a.key.localeCompare(b.key) || a.at - b.at).map(({ wind }) => wind);
}

/** The rest before a wind, told or seen from the times of two. */
export function rest_before(winds: readonly Wind[], at: number): string {
  const told = winds[at]?.table.rest_before;
  if (!is_blank(told)) return String(told);
  const before = winds[at - 1], now = winds[at];
  const from = before && instant(before.time), to = now && instant(now.time);
  return typeof from === 'number' && typeof to === 'number' && to > from ? `${((to - from) / hour_ms).toFixed(2)} h` : '';
}

/** The size of a motor's record put into a table; what the record lacks goes out of it. */
export function sized_like(table: JobTable, motor: JobTable, members: readonly (readonly [string, string])[]): JobTable {
  const next: JobTable = { ...table };
  for (const [from, to] of members) {
    if (is_blank(motor[from])) delete next[to];
    else next[to] = motor[from]!;
  }
  return next;
}
export const size_members = [['strip_width', 'width'], ['strip_thickness', 'thickness'], ['strands', 'strands'], ['loop_length', 'length']] as const;

/** Of the loop as measured last: now, or broken in as the motor says. */
const rested = (motor: JobTable, history: JobTable): JobValue | undefined => [history.rested_length, motor.loop_length].find((each) => !is_blank(each));

/** `places`: of each wind sent, its index among the winds shown. */
export function history_question(content: Content, winds: readonly Wind[]): { table: JobTable; places: number[] } | null {
  const motor = part_of(content.section, 'motor'), history = part_of(content.section, 'history');
  const fresh = is_blank(history.fresh_length) ? motor.loop_length : history.fresh_length;
  if (is_blank(motor.strip_width) || is_blank(fresh)) return null;
  const places = winds.flatMap(({ table }, at) => (is_blank(table.turns) ? [] : [at]));
  const rows = places.map((at) => cleaned({ ...Object.fromEntries(asked_of_wind.flatMap((name) => (winds[at]!.table[name] === undefined ? [] : [[name, winds[at]!.table[name]!]]))), rest_before: rest_before(winds, at) }));
  const { rest, turns_constant } = history;
  const rested_length = rested(motor, history);
  return {
    table: cleaned({
      width: motor.strip_width!, ...(is_blank(motor.strip_thickness) ? {} : { thickness: motor.strip_thickness! }), ...(is_blank(motor.strands) ? {} : { strands: motor.strands! }), fresh_length: fresh!,
      ...(rested_length === undefined ? {} : { rested_length }), ...(is_blank(rest) ? {} : { rest: rest! }), ...(is_blank(turns_constant) ? {} : { turns_constant: turns_constant! }), winds: rows as JobValue,
    }),
    places,
  };
}

/** How far to wind it now: by the loop as rested last and the breaks of its batch, entered and logged. */
export function motor_breaking(content: Content, batch: Content | null, log: readonly LoggedMotor[] = []): JobTable | null {
  const motor = part_of(content.section, 'motor'), history = part_of(content.section, 'history');
  const length = rested(motor, history) ?? history.fresh_length;
  if (is_blank(motor.strip_width) || length === undefined || is_blank(length)) return null;
  const breaking = batch ? part_of(batch.section, 'breaking') : {};
  // The winds are clean already, and one that held says so by a false.
  const size = cleaned({
    width: motor.strip_width!, ...(is_blank(motor.strip_thickness) ? {} : { thickness: motor.strip_thickness! }), ...(is_blank(motor.strands) ? {} : { strands: motor.strands! }), length,
    ...(is_blank(breaking.risk) ? {} : { risk: breaking.risk! }),
  });
  return { ...size, winds: winds_question(breaking, true, log).rows as JobValue };
}

/** Asked for the mass alone, which no other table of a motor looks at. */
export function mass_question(content: Content): JobTable | null {
  const { mass, strip_width: width } = part_of(content.section, 'motor');
  return is_blank(mass) || is_blank(width) ? null : { mass: mass!, width: width! };
}

export const batch_table = (batch: Content | null): JobTable | null => (batch ? (batch_question(batch)?.table ?? null) : null);

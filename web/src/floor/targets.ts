// What a column of a builder's own table may be, in which unit; what is offered for it by its heading and by what
// stands in it.
import type { Profile } from '../api/types';
import type { Table } from './csv';
import { order_of, read_date, time_of_day, type DateOrder } from './dates';
import { flags, type Column } from './flight';
import { seconds_of } from './stopwatch';
import { read as read_quantity, scale_of, unit_scale, type TorqueUnit } from './units';

/** What a column may be taken for. `read` gives undefined for what it does not understand. */
export type Target = {
  key: string;
  column: Column;
  words: string;
  guess?: RegExp;
  read: (cell: string, dates: DateOrder) => string | number | undefined;
  unit?: string;
  /** Headings that name no unit: offered in the builder's own. */
  plain?: RegExp;
  /** Turns let out again before launch: taken off those wound. */
  backed_off?: true;
  /** Joined to the date. */
  of_day?: true;
};

/** The units offered where a heading names none. */
export type Liking = { profile: Profile; torque_unit: TorqueUnit };
export const usual: Liking = { profile: 'metric', torque_unit: 'mN·m' };

/** A bare number of the flight log file. */
export const number = (cell: string): number | undefined => {
  const plain = cell.replace(/\s/g, '').replace(/^(-?\d+),(\d+)$/, '$1.$2');
  return /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(plain) ? Number(plain) : undefined;
};
const in_unit = (unit: string) => (cell: string) => read_quantity(cell, unit_scale(unit)) ?? undefined;
const turns_scale = scale_of('turns', 'metric', 'mN·m');
/** Whole things, by the rule of every field. */
export const count = (cell: string) => read_quantity(cell, turns_scale) ?? undefined;
const text = (cell: string): string => cell;
const seconds = (cell: string) => seconds_of(cell) ?? undefined;
export const seconds_of_minutes = seconds;
const per_minute = (cell: string) => {
  const found = number(cell.replace(/\s*(rpm|rev\/min|1\/min)$/i, ''));
  return found === undefined ? undefined : Number((found / 60).toPrecision(12));
};
const flag = (cell: string) => {
  const words = cell.toLowerCase().split(/[;,/+]/).map((word) => word.trim().replace(/[\s-]+/g, '_')).filter(Boolean);
  return words.every((word) => (flags as readonly string[]).includes(word)) ? words.join(';') : undefined;
};
const grams = (cell: string) => {
  const found = number(cell.replace(/\s*g$/i, ''));
  return found === undefined ? undefined : Number((found * 0.001).toPrecision(12));
};

const target = (column: Column, words: string, guess: RegExp | undefined, read: Target['read'], unit = '', plain?: RegExp): Target => ({
  key: unit ? `${column} ${unit}` : column, column, words: unit ? `${words}, ${unit}` : words, read,
  ...(unit ? { unit } : {}), ...(guess ? { guess } : {}), ...(plain ? { plain } : {}),
});
/** One quantity in several units, each with the headings that name it. */
const measured = (column: Column, words: string, plain: RegExp, units: readonly [string, RegExp][]): Target[] =>
  units.map(([unit, named]) => target(column, words, new RegExp(`^(?=.*(?:${named.source})).*?(?:${plain.source})`), in_unit(unit), unit, plain));

const torques: [string, RegExp][] = [['in-oz', /in.?oz|oz.?in/], ['g·cm', /g.?cm/], ['mN·m', /mn.?m/]];
const heights: [string, RegExp][] = [['ft', /\bft\b|feet|foot/], ['m', /\(m\)|\bm\b|_m$|met(?:er|re)s?\b/]];

/** The first that matches a heading and reads what stands under it is offered; the order tells the special from the general. */
export const targets: readonly Target[] = [
  target('id', 'id', /^id$/, text),
  target('time', 'date and time', /date|^time$|^day|^when$/, read_date),
  { key: 'time_of_day', column: 'time', words: 'time of day, to its date', guess: /^time$|time of day|^clock|^start|launched/, read: time_of_day, of_day: true },
  target('session', 'visit to a hall', /session|event|site|hall|venue|contest/, text),
  target('propeller', 'propeller', /^prop(eller)?s?\.?( id| name| no\.?)?$/, text),
  target('model', 'model', /^model( name| no)?$|^plane|aircraft/, text),
  target('setting', 'setting', /setting|pitch|trim/, text),
  target('batch', 'rubber batch', /batch|^rubber/, text),
  target('wind_number', 'wind number of the motor', /wind_?\s?(no|number)|times wound/, count),
  target('turns_left', 'turns left', /left|remain/, count),
  target('turns_at_launch', 'turns at launch', /(turns|winds).*launch|launch.*(turns|winds)/, count),
  { key: 'turns_backed_off', column: 'turns_at_launch', words: 'turns backed off', guess: /backed|back.?off|turns.*out|winds.*out|unw[io]|^out$/, read: count, backed_off: true },
  ...measured('launch_torque_Nm', 'launch torque', /launch.*torque|torque.*launch|launch.*(?:in.?oz|oz.?in|g.?cm|mn.?m)/, torques),
  target('launch_torque_Nm', 'launch torque', /launch_torque_nm/, number, 'N·m'),
  target('torque_wound_Nm', 'greatest torque', /torque_wound_nm/, number, 'N·m'),
  ...measured('torque_wound_Nm', 'greatest torque', /torque/, torques),
  target('turns_wound', 'turns wound', /turns?_?( in|wound)?$|^winds?\b|wound|^in$/, count),
  target('motor_mass_kg', 'motor mass', /motor.*(mass|weight)/, grams, 'g'),
  target('motor', 'motor', /^motors?( id| name| no\.?)?$/, text),
  target('top_time_s', 'time to the top', /top.*(time|_s$)|time.*top/, seconds),
  target('duration_s', 'time flown, s or min:s', /dur|^time|flown|^flight( ?time)?$|seconds|^result$|^score$/, seconds),
  ...measured('top_height_m', 'top height', /^(?!.*launch)(?!.*roof).*(?:\btop|peak|height|altitude)/, heights),
  ...measured('roof_m', 'roof height', /roof|ceiling/, heights),
  target('touches', 'touches of the roof', /touch/, count),
  target('steers', 'steers', /steer/, count),
  target('mean_rev_per_s', 'revolutions', /rpm|rev.*min/, per_minute, 'rev/min'),
  target('mean_rev_per_s', 'revolutions', /rev/, number, 'rev/s'),
  target('temperature_K', 'temperature', /temperature_k/, number, 'K'),
  ...measured('temperature_K', 'temperature', /temp/, [['°F', /°\s?f|deg\s?f|\bf\b|fahrenheit/], ['°C', /°\s?c|deg\s?c|\bc\b|celsius/]]),
  target('humidity', 'humidity', /humid|^rh\b/, number, '0 to 1'),
  target('humidity', 'humidity', /humid|^rh\b/, in_unit('%'), '%'),
  target('pressure_Pa', 'air pressure', /pressure_pa/, number, 'Pa'),
  ...measured('pressure_Pa', 'air pressure', /pressure|baro|hpa|mbar|inhg/, [['inHg', /inhg/], ['hPa', /hpa|mbar/]]),
  target('model_mass_kg', 'model mass without rubber', /model_mass_kg/, number, 'kg'),
  target('model_mass_kg', 'model mass without rubber', /(weight|mass).*\(?g/, grams, 'g'),
  target('flag', 'flag', /^flag/, flag),
  target('reason', 'reason of the flag', /reason/, text),
  target('notes', 'notes', /note|remark|comment/, text),
];

/** Columns of the flight log file that no builder's own table has: known by their own name only. */
const more: readonly Target[] = (['wait_s', 'mean_rev_sigma_per_s', 'mean_rev_time_s', 'launch_height_m', 'ballast_kg', 'motor_section_m2',
  'motor_length_m', 'spacer_mass_kg', 'motor_part', 'expected_s', 'weight'] as const).map((name) => ({ ...target(name, name, undefined, number), key: `${name} file` }));
const motor_mass: Target = { ...target('motor_mass_kg', 'motor_mass_kg', undefined, number), key: 'motor_mass_kg file' };
const in_si: readonly Target[] = [...more, motor_mass];

export const every_target: readonly Target[] = [...targets, ...in_si];
export const target_of = (key: string): Target | undefined => every_target.find((each) => each.key === key);

const sampled = 20;
const likes = (unit: string | undefined, { profile, torque_unit }: Liking): boolean =>
  unit === torque_unit || (['ft', '°F', 'inHg'].includes(unit ?? '') ? profile === 'inch' : ['m', '°C', 'hPa'].includes(unit ?? '') && profile === 'metric');
const spelled = (heading: string): string => heading.toLowerCase().trim().replaceAll('·', '.');

/** What each column may be; "" is left out. A column is taken for one thing only, and none twice. */
export function guessed(head: readonly string[], rows: Table['rows'] = [], liking: Liking = usual): string[] {
  const taken = new Set<string>();
  const slot = (to: Target) => (to.of_day ? 'time_of_day' : to.column);
  const cells = head.map((_, at) => rows.map((row) => row.cells[at] ?? '').filter(Boolean).slice(0, sampled));
  const reads = (to: Target, at: number): boolean => {
    const found = cells[at]!, order = to.column === 'time' ? order_of(found) : 'day';
    const read = found.filter((cell) => to.read(cell, order) !== undefined);
    // Most of them above 1 are no shares; one among many is a slip.
    if (to.column === 'humidity' && to.unit !== '%' && 2 * read.filter((cell) => number(cell)! > 1).length >= Math.max(read.length, 1)) return false;
    return found.length === 0 || 2 * read.length >= found.length;
  };
  const timed = targets.find(({ column }) => column === 'duration_s')!;
  /** "Flight" counts them more often than it times them. */
  const only_counts = (at: number) => spelled(head[at]!) === 'flight' && !cells[at]!.some((cell) => cell.includes(':'));
  const other_times = (at: number) => head.some((title, other) => other !== at && !only_counts(other) && timed.guess!.test(spelled(title)) && spelled(title) !== 'time' && reads(timed, other));

  const own = (name: string) => in_si.find(({ column }) => column === name) ?? targets.find(({ column, guess }) => column === name && (guess?.test(name.toLowerCase()) ?? false));
  const by_heading = (at: number): Target | undefined => {
    const title = spelled(head[at]!);
    const fitting = targets.filter((to) => !taken.has(slot(to)) && (to.guess?.test(title) || (to.plain?.test(title) && likes(to.unit, liking)))
      && !(to.of_day && title === 'time' && !other_times(at))
      && !only_counts(at));
    // A unit that the heading names goes before one that is only usual.
    const named = (to: Target) => to.guess?.test(title) ?? false;
    const sure = fitting.filter((to) => named(to) || !fitting.some((other) => other.column === to.column && named(other)));
    return sure.find((to) => reads(to, at)) ?? sure[0];
  };
  const take = (to: Target | undefined): string => {
    if (!to || taken.has(slot(to))) return '';
    taken.add(slot(to));
    return to.key;
  };
  // The log's own names first: another heading that could be the same thing does not take their place.
  const by_name = head.map((title, at) => {
    const named = own(title.trim());
    return take(named && named.column === title.trim() && reads(named, at) ? named : undefined);
  });
  const keys = by_name.map((key, at) => (key === '' ? take(by_heading(at)) : key));
  // No heading told: by what stands in the column.
  return keys.map((key, at) => {
    if (key !== '' || cells[at]!.length === 0) return key;
    if (cells[at]!.every((cell) => /^\d{1,2}:\d{2}([.,]\d+)?$/.test(cell)) && reads(timed, at)) return take(timed);
    return cells[at]!.every((cell) => /\d{4}|\d\.\d{1,2}\.\d{2}/.test(cell) && read_date(cell, order_of(cells[at]!)) !== undefined) ? take(target_of('time')) : '';
  });
}

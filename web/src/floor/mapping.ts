// Old logs: which column of a builder's own table is which of the flight log, in which unit, and what in it
// could not be understood.
import type { Table } from './csv';
import { flags, tidy, type Column, type LoggedFlight } from './flight';
import { seconds_of } from './stopwatch';

/** What a column may be taken for. `read` gives undefined for what it does not understand. */
export type Target = {
  key: string;
  column: Column;
  words: string;
  guess?: RegExp;
  read: (cell: string) => string | number | undefined;
  /** Turns let out again before launch: taken off those wound. */
  backed_off?: true;
};

const number = (cell: string): number | undefined => {
  const plain = cell.replace(/\s/g, '').replace(/^(-?\d+),(\d+)$/, '$1.$2');
  return /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(plain) ? Number(plain) : undefined;
};
const scaled = (factor: number, offset = 0) => (cell: string) => {
  const found = number(cell.replace(/[^\d.,eE+-]+$/, ''));
  return found === undefined ? undefined : Number((found * factor + offset).toPrecision(12));
};
const text = (cell: string): string => cell;
const inch_ounce = 0.028349523125 * 9.80665 * 0.0254;

/** "21.11.2026 14:05" is refused rather than guessed: day and month are told apart in ISO 8601 only. */
const date = (cell: string) => {
  const found = /^(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ](\d{1,2}):(\d{2})(:\d{2})?)?/.exec(cell);
  if (!found) return undefined;
  const two = (part: string) => part.padStart(2, '0');
  const day = `${found[1]}-${two(found[2]!)}-${two(found[3]!)}`;
  return found[4] ? `${day}T${two(found[4])}:${found[5]}${found[6] ?? ''}` : day;
};
const flag = (cell: string) => {
  const words = cell.toLowerCase().split(/[;,/+]/).map((word) => word.trim().replace(/[\s-]+/g, '_')).filter(Boolean);
  return words.every((word) => (flags as readonly string[]).includes(word)) ? words.join(';') : undefined;
};

const target = (column: Column, words: string, guess: RegExp | undefined, read: Target['read'], unit = ''): Target => ({
  key: unit ? `${column} ${unit}` : column, column, words: unit ? `${words}, ${unit}` : words, read, ...(guess ? { guess } : {}),
});

/** The first that matches a heading is offered; the order tells the special from the general. */
export const targets: readonly Target[] = [
  target('id', 'id', /^id$/, text),
  target('time', 'date and time', /date|^time$|^day/, date),
  target('session', 'visit to a hall', /session|event|site|hall|venue/, text),
  target('propeller', 'propeller', /^prop(eller)?s?( id| name| no)?$/, text),
  target('model', 'model', /model|^plane|aircraft/, text),
  target('setting', 'setting', /setting|pitch|trim/, text),
  target('batch', 'rubber batch', /batch|^rubber/, text),
  target('wind_number', 'wind number of the motor', /wind_?(no|number)|times wound/, number),
  target('turns_left', 'turns left', /left|remain/, number),
  target('turns_at_launch', 'turns at launch', /turns.*launch|launch.*turns/, number),
  { key: 'turns_backed_off', column: 'turns_at_launch', words: 'turns backed off', guess: /backed|back.?off|turns.*out|^out$/, read: number, backed_off: true },
  target('turns_wound', 'turns wound', /turns?_?( in|wound)?$|wound|^in$/, number),
  target('launch_torque_Nm', 'launch torque', /launch.*(in.?oz)/, scaled(inch_ounce), 'in-oz'),
  target('launch_torque_Nm', 'launch torque', /launch.*(g.?cm)/, scaled(0.0000980665), 'g·cm'),
  target('launch_torque_Nm', 'launch torque', /launch.*(mn.?m)/, scaled(0.001), 'mN·m'),
  target('launch_torque_Nm', 'launch torque', /launch_torque_nm/, number, 'N·m'),
  target('torque_wound_Nm', 'greatest torque', /torque.*(in.?oz)/, scaled(inch_ounce), 'in-oz'),
  target('torque_wound_Nm', 'greatest torque', /torque.*(g.?cm)/, scaled(0.0000980665), 'g·cm'),
  target('torque_wound_Nm', 'greatest torque', /torque.*mn.?m/, scaled(0.001), 'mN·m'),
  target('torque_wound_Nm', 'greatest torque', /torque_wound_nm/, number, 'N·m'),
  target('motor', 'motor', /^motor( id| name| no)?$/, text),
  target('top_time_s', 'time to the top', /top.*(time|_s$)|time.*top/, (cell) => seconds_of(cell) ?? undefined),
  target('duration_s', 'time flown, s or min:s', /duration|^time|flown|flight time|seconds/, (cell) => seconds_of(cell) ?? undefined),
  target('top_height_m', 'top height', /(top|peak|height).*(ft|feet)/, scaled(0.3048), 'ft'),
  target('top_height_m', 'top height', /top|peak|height/, scaled(1), 'm'),
  target('roof_m', 'roof height', /(roof|ceiling).*(ft|feet)/, scaled(0.3048), 'ft'),
  target('roof_m', 'roof height', /roof|ceiling/, scaled(1), 'm'),
  target('touches', 'touches of the roof', /touch/, number),
  target('steers', 'steers', /steer/, number),
  target('mean_rev_per_s', 'revolutions', /rpm|rev.*min/, scaled(1 / 60), 'rev/min'),
  target('mean_rev_per_s', 'revolutions', /rev/, number, 'rev/s'),
  target('temperature_K', 'temperature', /temp.*(°f|degf|\bf\b)/, scaled(5 / 9, 459.67 * 5 / 9), '°F'),
  target('temperature_K', 'temperature', /temperature_k/, number, 'K'),
  target('temperature_K', 'temperature', /temp/, scaled(1, 273.15), '°C'),
  target('humidity', 'humidity', /^humidity$/, number, '0 to 1'),
  target('humidity', 'humidity', /humid/, scaled(0.01), '%'),
  target('pressure_Pa', 'air pressure', /pressure_pa/, number, 'Pa'),
  target('pressure_Pa', 'air pressure', /pressure.*inhg/, scaled(3386.389), 'inHg'),
  target('pressure_Pa', 'air pressure', /pressure|hpa|mbar/, scaled(100), 'hPa'),
  target('model_mass_kg', 'model mass without rubber', /model_mass_kg/, number, 'kg'),
  target('model_mass_kg', 'model mass without rubber', /(weight|mass).*\(?g/, scaled(0.001), 'g'),
  target('motor_mass_kg', 'motor mass', /motor.*(mass|weight)/, scaled(0.001), 'g'),
  target('flag', 'flag', /^flag/, flag),
  target('reason', 'reason of the flag', /reason/, text),
  target('notes', 'notes', /note|remark|comment/, text),
];

/** Columns of the flight log file that no builder's own table has: known by their own name only. */
const by_own_name = (name: Column): Target => target(name, name, undefined, number);
const more: readonly Target[] = (['wait_s', 'mean_rev_sigma_per_s', 'launch_height_m', 'ballast_kg', 'motor_mass_kg', 'motor_section_m2',
  'motor_length_m', 'spacer_mass_kg', 'motor_part', 'expected_s', 'weight'] as const).map((name) => ({ ...by_own_name(name), key: `${name} file` }));

export const every_target: readonly Target[] = [...targets, ...more];
export const target_of = (key: string): Target | undefined => every_target.find((each) => each.key === key);

/** What each column may be; "" is left out. A column is taken for one thing only, and none twice. */
export function guessed(head: readonly string[]): string[] {
  const taken = new Set<Column>();
  const own = (name: string) => more.find(({ column }) => column === name)
    ?? targets.find(({ column, guess }) => column === name && (guess?.test(name.toLowerCase()) ?? false));
  return head.map((title) => {
    const plain = title.toLowerCase().trim();
    const found = own(title.trim()) ?? targets.find(({ column, guess }) => !taken.has(column) && guess?.test(plain));
    if (!found || taken.has(found.column)) return '';
    taken.add(found.column);
    return found.key;
  });
}

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

/** A row that has no id gets one of its own content: the same log taken in twice is taken in once. */
export function mapped(table: Table, keys: readonly string[], winder_ratio = 1): Mapped {
  const not_understood: string[] = [];
  const seen = new Map<string, number>();
  const flights = table.rows.map(({ line, cells }) => {
    const flight: Record<string, unknown> = {};
    let out: number | undefined;
    keys.forEach((key, at) => {
      const cell = cells[at] ?? '', to = target_of(key);
      if (!to || cell === '') return;
      const value = to.read(cell);
      if (value === undefined) not_understood.push(`line ${line}, ${table.head[at]}: ${cell.slice(0, 60)}`);
      else if (to.backed_off) out = Number(value);
      else flight[to.column] = value;
    });
    motor_turns(flight, out, winder_ratio);
    const content = JSON.stringify(tidy(flight));
    const before = seen.get(content) ?? 0;
    seen.set(content, before + 1);
    const id = typeof flight.id === 'string' && /^[a-z0-9_-]{1,64}$/.test(flight.id) ? flight.id : `log-${digest(`${content}#${before}`)}`;
    return tidy({ ...flight, id });
  });
  return { flights, not_understood };
}

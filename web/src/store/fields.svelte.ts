// The server's own table of job fields: ranges, units, steps, meaning. All display conversion of a
// field goes through it.
import { api } from '../api/client';
import type { FieldInfo, Profile } from '../api/types';
import { fixed } from '../lib/format';

/** "propeller.station[2].radius" is described by "propeller.station.radius". */
export function field_key(path: string): string {
  return path.replace(/\[\d+\]/g, '');
}

class Fields {
  table = $state.raw(new Map<string, FieldInfo>());

  async load(): Promise<void> {
    const { body } = await api.fields();
    this.use(body.fields);
  }

  use(list: FieldInfo[]): void {
    this.table = new Map(list.map((info) => [field_key(info.field), info]));
  }

  of(path: string): FieldInfo | undefined {
    return this.table.get(field_key(path));
  }
}

export const fields = new Fields();

/** Plain numbers and shares are written without a unit. */
export function is_quantity(info: FieldInfo): boolean {
  return info.unit.metric !== '';
}

export function to_shown(si: number, info: FieldInfo, profile: Profile): number {
  return si * info.factor[profile] + info.offset[profile];
}

export function to_si(shown: number, info: FieldInfo, profile: Profile): number {
  return (shown - info.offset[profile]) / info.factor[profile];
}

/** The number as the field shows it, with the profile's digits. */
export function shown_number(si: number, info: FieldInfo, profile: Profile): string {
  return fixed(to_shown(si, info, profile), info.digits[profile]);
}

const pretty_units: Record<string, string> = {
  deg: '°', degC: '°C', degF: '°F', 'mN.m': 'mN·m', 'uPa.s': 'µPa·s', 'N.mm2': 'N·mm²',
};

/** A unit as it is read, not as it is typed: "°C" for "degC", "cm²" for "cm2". */
export function pretty_unit(unit: string): string {
  return pretty_units[unit] ?? unit.replace(/2$/, '²').replace(/3$/, '³');
}

/** What goes into the job: "381.0 mm", "0.06". ASCII, with a point, never grouped. */
export function job_text(shown: number, info: FieldInfo, profile: Profile): string | number {
  const number = shown.toFixed(info.digits[profile]);
  const clean = Number(number) === 0 ? number.replace('-', '') : number;
  if (!is_quantity(info)) return Number(clean);
  return `${clean} ${info.unit[profile]}`;
}

const number_and_unit = /^\s*([-+\u2212]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?)\s*(.*?)\s*$/i;

/** Splits "0.040 in" into its number and unit; null for fractions, times in parts and words. */
export function split(text: string): { number: string; value: number; unit: string } | null {
  const match = number_and_unit.exec(text);
  if (!match?.[1]) return null;
  const value = Number(match[1].replace('\u2212', '-'));
  return Number.isFinite(value) ? { number: match[1], value, unit: match[2] ?? '' } : null;
}

/** SI value of a job entry written in one of the two shown units; null where only the server knows. */
export function simple_si(entry: unknown, info: FieldInfo): number | null {
  if (typeof entry === 'number') return is_quantity(info) ? null : entry;
  if (typeof entry !== 'string') return null;
  const parts = split(entry);
  if (!parts) return null;
  if (!is_quantity(info)) {
    if (parts.unit === '') return parts.value;
    return parts.unit === '%' ? parts.value / 100 : null;
  }
  for (const profile of ['metric', 'inch'] as const) {
    if (parts.unit === info.unit[profile]) return to_si(parts.value, info, profile);
  }
  return null;
}

/**
 * What a builder typed, ready for the job. A bare number is completed with the shown unit; everything
 * else goes on as written, and the server judges it. Empty means: take the field out.
 */
export function completed(typed: string, info: FieldInfo, profile: Profile): string | number | undefined {
  const text = typed.trim();
  if (text === '') return undefined;
  const parts = split(text);
  if (!parts || parts.unit !== '') {
    if (parts && !is_quantity(info) && parts.unit === '%') return text;
    return text;
  }
  if (!is_quantity(info)) return parts.value;
  return `${parts.number.replace('\u2212', '-').replace(/^\+/, '')} ${info.unit[profile]}`;
}

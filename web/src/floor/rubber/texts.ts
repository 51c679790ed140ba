// Figures of rubber as text, in both unit worlds. Conversion and rounding only.
import type { RubberSpread } from '../../api/rubber';
import type { Profile } from '../../api/types';
import { fixed, significant } from '../../lib/format';
import { read, scale_of } from '../units';

type Pair = Record<Profile, { unit: string; factor: number; digits: number }>;

const figures = {
  energy: { metric: { unit: 'kJ/kg', factor: 1e-3, digits: 2 }, inch: { unit: 'ft·lb/lb', factor: 1 / 2.98906692, digits: 0 } },
  share: { metric: { unit: '%', factor: 100, digits: 1 }, inch: { unit: '%', factor: 100, digits: 1 } },
  number: { metric: { unit: '', factor: 1, digits: 2 }, inch: { unit: '', factor: 1, digits: 2 } },
  modulus: { metric: { unit: 'kPa', factor: 1e-3, digits: 1 }, inch: { unit: 'psi', factor: 1 / 6894.757, digits: 1 } },
  density: { metric: { unit: 'kg/m³', factor: 1, digits: 0 }, inch: { unit: 'lb/ft³', factor: 1 / 16.018463374, digits: 1 } },
  loop: { metric: { unit: 'mm', factor: 1e3, digits: 1 }, inch: { unit: 'in', factor: 1 / 0.0254, digits: 2 } },
} as const satisfies Record<string, Pair>;

export type Figure = keyof typeof figures;

export const figure_unit = (figure: Figure, profile: Profile): string => figures[figure][profile].unit;

/** "13.21" */
export function figure_number(si: number, figure: Figure, profile: Profile, more = 0): string {
  const { factor, digits } = figures[figure][profile];
  return fixed(si * factor, digits + more);
}

/** "13.21 kJ/kg" */
export function figure_text(si: number | null | undefined, figure: Figure, profile: Profile): string {
  if (si === null || si === undefined) return '–';
  const { unit } = figures[figure][profile];
  return unit === '' ? figure_number(si, figure, profile) : `${figure_number(si, figure, profile)}\u00a0${unit}`;
}

/** "13.1 to 13.4": the 90 % interval of the mean; a dash with one motor. */
export function interval_text({ interval }: RubberSpread, figure: Figure, profile: Profile): string {
  const [low, high] = interval as [number, number];
  return low === high ? '–' : `${figure_number(low, figure, profile)} to ${figure_number(high, figure, profile)}`;
}

/** "1.2 %": from motor to motor. */
export const scatter_text = ({ mean, scatter, interval }: RubberSpread): string =>
  interval[0] === interval[1] ? 'not known' : `${fixed((100 * scatter) / mean, 1)}\u00a0%`;

/** A torque in the three units of the trade. */
export const torques = (si: number): { unit: string; text: string }[] => [
  { unit: 'mN·m', text: significant(si * 1e3) },
  { unit: 'g·cm', text: significant(si / 0.0000980665) },
  { unit: 'in-oz', text: significant(si / 0.00706155) },
];

/** Units a bare number gets on these pages. */
export const rubber_units = {
  metric: { width: 'mm', loop: 'mm', mass: 'g', temperature: 'degC', rest: 'h', torque: 'mN.m', height: 'm', wire: 'mm', line: 'g/m', density: 'kg/m3', pressure: 'hPa' },
  inch: { width: 'in', loop: 'in', mass: 'g', temperature: 'degF', rest: 'h', torque: 'in-oz', height: 'ft', wire: 'in', line: 'g/in', density: 'lb/ft3', pressure: 'inHg' },
} as const satisfies Record<Profile, Record<string, string>>;

/** The readings of a visit, each as the Floor reads it. */
export const visit_measures = { temperature: 'temperature', pressure: 'pressure', humidity: 'humidity', roof: 'height' } as const;

/** "16,5" as "16.5 degC": as typed where the program reads it so, else in the unit of the field. Null: it is not understood, or of another kind. */
export function visit_reading(name: keyof typeof visit_measures, text: string, profile: Profile): string | null {
  const scale = scale_of(visit_measures[name], profile, 'mN·m');
  const found = read(text, scale);
  if (typeof found !== 'number') return null;
  if (/^-?\d+(\.\d+)? (degC|degF|K|Pa|hPa|kPa|inHg|%|m|cm|mm|ft|in)$/.test(text.trim())) return text.trim();
  const { temperature, pressure, height } = rubber_units[profile];
  const unit = { temperature, pressure, humidity: '%', roof: height }[name];
  return `${Number((found * scale.factor + scale.offset).toPrecision(8))} ${unit}`;
}

// Figures of the bench as text, in both unit worlds. Conversion and rounding only.
import type { Profile } from '../../api/types';
import { fixed, signed } from '../../lib/format';

type Pair = Record<Profile, { unit: string; factor: number; digits: number }>;

const figures = {
  mass: { metric: { unit: 'mg', factor: 1e6, digits: 1 }, inch: { unit: 'mg', factor: 1e6, digits: 1 } },
  length: { metric: { unit: 'mm', factor: 1e3, digits: 1 }, inch: { unit: 'in', factor: 1 / 0.0254, digits: 2 } },
  fine: { metric: { unit: 'mm', factor: 1e3, digits: 2 }, inch: { unit: 'thou', factor: 1 / 2.54e-5, digits: 1 } },
  moment: { metric: { unit: 'mg·mm', factor: 1e9, digits: 0 }, inch: { unit: 'mg·in', factor: 1e6 / 0.0254, digits: 1 } },
  density: { metric: { unit: 'kg/m³', factor: 1, digits: 0 }, inch: { unit: 'lb/ft³', factor: 1 / 16.018463374, digits: 1 } },
  areal: { metric: { unit: 'g/m²', factor: 1e3, digits: 1 }, inch: { unit: 'mg/100 in²', factor: 64516, digits: 0 } },
  linear: { metric: { unit: 'mg/m', factor: 1e6, digits: 0 }, inch: { unit: 'mg/in', factor: 1e6 * 0.0254, digits: 1 } },
  modulus: { metric: { unit: 'GPa', factor: 1e-9, digits: 2 }, inch: { unit: 'GPa', factor: 1e-9, digits: 2 } },
  pitch: { metric: { unit: 'mm', factor: 1e3, digits: 0 }, inch: { unit: 'in', factor: 1 / 0.0254, digits: 1 } },
} as const satisfies Record<string, Pair>;

export type Figure = keyof typeof figures;

export const unit_of = (figure: Figure, profile: Profile): string => figures[figure][profile].unit;
export const factor_of = (figure: Figure, profile: Profile): number => figures[figure][profile].factor;

/** "12.4"; a dash where nothing is known. */
export function number(si: number | null | undefined, figure: Figure, profile: Profile, digits?: number): string {
  if (si === null || si === undefined) return '\u2013';
  const { factor, digits: usual } = figures[figure][profile];
  return fixed(si * factor, digits ?? usual);
}

/** "12.4 mg" */
export function text(si: number | null | undefined, figure: Figure, profile: Profile, digits?: number): string {
  return si === null || si === undefined ? '\u2013' : `${number(si, figure, profile, digits)}\u00a0${unit_of(figure, profile)}`;
}

/** "+1.2" */
export function difference(si: number | null | undefined, figure: Figure, profile: Profile, digits?: number): string {
  if (si === null || si === undefined) return '\u2013';
  const { factor, digits: usual } = figures[figure][profile];
  return signed(si * factor, digits ?? usual);
}

/** "12.4 ± 0.6 mg": the doubt with two digits at most. */
export function doubtful(si: number | null | undefined, sigma: number | null | undefined, figure: Figure, profile: Profile): string {
  if (si === null || si === undefined) return '\u2013';
  const { unit, factor, digits: usual } = figures[figure][profile];
  if (sigma === null || sigma === undefined || !(sigma > 0)) return text(si, figure, profile);
  const digits = Math.max(0, Math.min(3, Math.max(usual, -Math.floor(Math.log10(sigma * factor)))));
  return `${fixed(si * factor, digits)}\u00a0± ${fixed(sigma * factor, digits)}\u00a0${unit}`;
}

/** "0.5°" */
export const degrees = (deg: number | null | undefined, digits = 1): string => (deg === null || deg === undefined ? '\u2013' : `${fixed(deg, digits)}°`);

/** Torsional stiffness in N·mm² to the second digit of its doubt: "15.5" and "0.8". */
export function stiffness_parts(si: number, sigma: number): { value: string; doubt: string } {
  const digits = sigma > 0 ? Math.max(0, Math.min(4, 1 - Math.floor(Math.log10(sigma * 1e6)))) : 2;
  return { value: fixed(si * 1e6, digits), doubt: fixed(sigma * 1e6, digits) };
}

export const percent = (share: number | null | undefined, digits = 0): string => (share === null || share === undefined ? '\u2013' : `${fixed(share * 100, digits)}\u00a0%`);

/** "density as wished; A grain" as a sentence of its own. */
export function sentence(text: string): string {
  const words = text.trim().replace(/\.$/, '').replaceAll('ft3', 'ft³').replaceAll('kg/m3', 'kg/m³');
  return words === '' ? '' : `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;
}

/** A text that is a count becomes a number; all else goes on as written, and the server judges it. */
export function count_of(text: unknown): string | number | undefined {
  if (typeof text !== 'string' || text.trim() === '') return typeof text === 'number' ? text : undefined;
  const value = Number(text.trim());
  return Number.isFinite(value) ? value : text.trim();
}

/** Units a bare number gets, as the server reads them. */
export const entry_units = {
  metric: { length: 'mm', fine: 'mm', mass: 'mg', angle: 'deg', areal: 'g/m2', density: 'kg/m3', force: 'N', torque: 'mN.m' },
  inch: { length: 'in', fine: 'thou', mass: 'mg', angle: 'deg', areal: 'g/m2', density: 'lb/ft3', force: 'ozf', torque: 'in-oz' },
} as const satisfies Record<Profile, Record<string, string>>;

// Quantities of the hall in the units a builder reads them in. Only the display's own conversions; what the
// program is asked goes to it as text with its unit.
import type { Profile } from '../api/types';
import { fixed, short } from '../lib/format';

export type Scale = { unit: string; factor: number; offset: number; digits: number; step: number };

export const torque_units = ['mN·m', 'g·cm', 'in-oz'] as const;
export type TorqueUnit = (typeof torque_units)[number];

const torque: Record<TorqueUnit, Scale> = {
  'mN·m': { unit: 'mN·m', factor: 1000, offset: 0, digits: 2, step: 0.05 },
  'g·cm': { unit: 'g·cm', factor: 1 / 0.0000980665, offset: 0, digits: 1, step: 0.5 },
  'in-oz': { unit: 'in-oz', factor: 1 / 0.00706155, offset: 0, digits: 3, step: 0.01 },
};

export type Measure = 'torque' | 'temperature' | 'pressure' | 'humidity' | 'height' | 'turns' | 'ratio';

export function scale_of(measure: Measure, profile: Profile, torque_unit: TorqueUnit): Scale {
  const inch = profile === 'inch';
  switch (measure) {
    case 'torque': return torque[torque_unit];
    case 'temperature': return inch ? { unit: '°F', factor: 1.8, offset: -459.67, digits: 0, step: 1 } : { unit: '°C', factor: 1, offset: -273.15, digits: 1, step: 1 };
    case 'pressure': return inch ? { unit: 'inHg', factor: 1 / 3386.389, offset: 0, digits: 2, step: 0.05 } : { unit: 'hPa', factor: 0.01, offset: 0, digits: 0, step: 1 };
    case 'humidity': return { unit: '%', factor: 100, offset: 0, digits: 0, step: 5 };
    case 'height': return inch ? { unit: 'ft', factor: 1 / 0.3048, offset: 0, digits: 1, step: 0.5 } : { unit: 'm', factor: 1, offset: 0, digits: 1, step: 0.1 };
    case 'turns': return { unit: 'turns', factor: 1, offset: 0, digits: 0, step: 10 };
    case 'ratio': return { unit: ': 1', factor: 1, offset: 0, digits: 2, step: 1 };
  }
}

/** "16", "0.45": without the unit, which stands beside the field. */
export const shown = (si: number, scale: Scale): string => short(si * scale.factor + scale.offset, scale.digits).replaceAll('\u202f', '');

export const with_unit = (si: number, scale: Scale): string => `${fixed(si * scale.factor + scale.offset, scale.digits)}\u00a0${scale.unit}`;

/** Null for an empty field, undefined for what is no number. */
export function read(text: string, scale: Scale): number | null | undefined {
  const plain = text.trim().replace(',', '.').replace('\u2212', '-');
  if (plain === '') return null;
  if (!/^-?(\d+\.?\d*|\.\d+)$/.test(plain)) return undefined;
  return Number(((Number(plain) - scale.offset) / scale.factor).toPrecision(10));
}

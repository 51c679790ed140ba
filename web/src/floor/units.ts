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

/** What is little is not rounded to something else: 0.5 % of humidity is not 1 %. */
const digits_of = (value: number, { digits }: Scale): number => (digits === 0 && value !== 0 && Math.abs(value) < 1 ? 2 : digits);

/** "16", "0.45": without the unit, which stands beside the field. */
export const shown = (si: number, scale: Scale): string => short(si * scale.factor + scale.offset, digits_of(si * scale.factor + scale.offset, scale)).replaceAll('\u202f', '');

export const with_unit = (si: number, scale: Scale): string => `${fixed(si * scale.factor + scale.offset, digits_of(si * scale.factor + scale.offset, scale))}\u00a0${scale.unit}`;

/** "7.5 : 1": no other ratio than the one it is. */
export const ratio_words = (ratio: number): string => `${short(ratio, 3)} : 1`;

type Kind = 'torque' | 'temperature' | 'pressure' | 'humidity' | 'length' | 'count';
type Unit = { kind: Kind; factor: number; offset?: number };

/** Units as they are typed beside a number, small letters without dots, dashes and spaces; SI = number * factor + offset. */
const typed_units: Record<string, Unit> = {
  nm: { kind: 'torque', factor: 1 }, mnm: { kind: 'torque', factor: 0.001 }, gcm: { kind: 'torque', factor: 0.0000980665 },
  gfcm: { kind: 'torque', factor: 0.0000980665 }, inoz: { kind: 'torque', factor: 0.00706155 }, ozin: { kind: 'torque', factor: 0.00706155 },
  c: { kind: 'temperature', factor: 1, offset: 273.15 }, f: { kind: 'temperature', factor: 5 / 9, offset: (459.67 * 5) / 9 }, k: { kind: 'temperature', factor: 1 },
  pa: { kind: 'pressure', factor: 1 }, hpa: { kind: 'pressure', factor: 100 }, mbar: { kind: 'pressure', factor: 100 }, kpa: { kind: 'pressure', factor: 1000 },
  inhg: { kind: 'pressure', factor: 3386.389 }, mmhg: { kind: 'pressure', factor: 133.322 },
  '%': { kind: 'humidity', factor: 0.01 }, '%rh': { kind: 'humidity', factor: 0.01 },
  m: { kind: 'length', factor: 1 }, cm: { kind: 'length', factor: 0.01 }, mm: { kind: 'length', factor: 0.001 },
  ft: { kind: 'length', factor: 0.3048 }, feet: { kind: 'length', factor: 0.3048 }, "'": { kind: 'length', factor: 0.3048 },
  in: { kind: 'length', factor: 0.0254 }, inch: { kind: 'length', factor: 0.0254 }, inches: { kind: 'length', factor: 0.0254 }, '"': { kind: 'length', factor: 0.0254 },
  turns: { kind: 'count', factor: 1 }, turn: { kind: 'count', factor: 1 },
};
const unit_of = (text: string): Unit | undefined => typed_units[text.toLowerCase().replace(/[\s.·⋅*°_-]|deg/g, '').replace(/[’′]/g, "'").replace(/[”″]/g, '"')];

/** A field in that unit, as one of an old log. */
export function unit_scale(unit: string): Scale {
  const { factor, offset = 0, kind } = unit_of(unit)!;
  return { unit, factor: 1 / factor, offset: -offset / factor, digits: kind === 'pressure' && unit !== 'inHg' ? 0 : 3, step: 1 };
}

/** Whole things: a comma or a space parts thousands, a fraction is not believed. */
const counts = (scale: Scale): boolean => scale.unit === '' || scale.unit === 'turns';

/** "16", "0,45", "1,820", "1 820"; undefined where it is none or could be two ("1,82" turns). */
function plain_number(text: string, whole: boolean): number | undefined {
  const bare = text.trim().replace('\u2212', '-').replace(/^(-?\d{1,3})([ \u00a0\u202f']\d{3})+(?=$|[.,])/, (all) => all.replace(/[ \u00a0\u202f']/g, ''));
  if (whole) {
    const joined = /^\d{1,3}(,\d{3})+$/.test(bare) ? bare.replaceAll(',', '') : bare.replace(/^(\d+),(\d)$/, '$1.$2');
    // "1.820" are 1820 turns for some and hardly two for others: asked.
    return /^\d+(\.\d+)?$/.test(joined) && !/^\d{1,3}\.\d{3}$/.test(joined) ? Number(joined) : undefined;
  }
  const pointed = /^-?\d{1,3}(,\d{3})+\.\d+$/.test(bare) ? bare.replaceAll(',', '') : bare.replace(',', '.');
  return /^-?(\d+\.?\d*|\.\d+)$/.test(pointed) ? Number(pointed) : undefined;
}

const tidy = (si: number): number => Number(si.toPrecision(10));

/**
 * Null for an empty field, undefined for what is not understood. A unit typed with the number goes before the
 * field's own, where it is of the same kind: "62 °F" in a field of °C, "27 ft 10 in" in one of metres.
 */
export function read(text: string, scale: Scale): number | null | undefined {
  const typed = scale.unit === ': 1' ? text.trim().replace(/\s*:\s*1$/, '') : text.trim();
  if (typed === '') return text.trim() === '' ? null : undefined;
  const feet = /^(\d+)\s*(?:ft|feet|['’′])\s*(\d+(?:[.,]\d+)?)\s*(?:in|inch|inches|["”″])?$/i.exec(typed);
  const own = unit_of(scale.unit);
  if (feet && own?.kind === 'length') return tidy(Number(feet[1]) * 0.3048 + Number(feet[2]!.replace(',', '.')) * 0.0254);
  const parted = /^(.*?\d[.,]?)\s*([^\d.,\s]\D*)?$/.exec(typed);
  if (!parted) return undefined;
  const number = plain_number(parted[1]!, counts(scale));
  if (number === undefined) return undefined;
  if (parted[2] === undefined) {
    // "1,013" hectopascals, as "1,820" turns: where no decimals belong, three digits behind a comma are thousands.
    const thousands = scale.digits === 0 && own?.kind === 'pressure' && /^\d{1,3},\d{3}$/.test(parted[1]!.trim());
    return tidy(((thousands ? Number(parted[1]!.replace(',', '')) : number) - scale.offset) / scale.factor);
  }
  const unit = unit_of(parted[2]);
  const kind = own?.kind ?? (counts(scale) ? 'count' : undefined);
  return unit && unit.kind === kind ? tidy(number * unit.factor + (unit.offset ?? 0)) : undefined;
}

/** What to write instead of what was not understood. */
export function how_to_write(text: string, scale: Scale): string {
  const comma = /^(\d+)[.,](\d+)$/.exec(text.trim());
  if (comma && counts(scale)) return `${text.trim()} can be read in two ways: write ${comma[1]}${comma[2]}, if that is meant`;
  const units = { torque: 'mN·m, g·cm or in-oz', temperature: '°C or °F', pressure: 'hPa or inHg', humidity: '%', length: 'm, ft or in', count: '' }[unit_of(scale.unit)?.kind ?? 'count'];
  return `"${text.trim()}" is not understood: write a number${units ? `, with its unit if it is another (${units})` : ''}`;
}

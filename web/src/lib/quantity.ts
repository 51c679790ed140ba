// How SI values are shown in charts, drawings and lists. Job fields have their own table from the
// server (store/fields.svelte.ts); this one is for what the flight answers. Conversion for display
// only, with the same units and digits as the command line prints.
import type { Profile } from '../api/types';
import { fixed, signed } from './format';

export type Show = { unit: string; factor: number; offset?: number; digits: number };

export const quantities = {
  size: { metric: { unit: 'mm', factor: 1000, digits: 0 }, inch: { unit: 'in', factor: 1 / 0.0254, digits: 2 } },
  fine_size: { metric: { unit: 'mm', factor: 1000, digits: 2 }, inch: { unit: 'in', factor: 1 / 0.0254, digits: 3 } },
  height: { metric: { unit: 'm', factor: 1, digits: 1 }, inch: { unit: 'ft', factor: 1 / 0.3048, digits: 1 } },
  area: { metric: { unit: 'cm²', factor: 1e4, digits: 0 }, inch: { unit: 'in²', factor: 1 / 0.0254 ** 2, digits: 1 } },
  mass: { metric: { unit: 'g', factor: 1000, digits: 2 }, inch: { unit: 'g', factor: 1000, digits: 2 } },
  torque: { metric: { unit: 'mN·m', factor: 1000, digits: 2 }, inch: { unit: 'in-oz', factor: 1 / 0.00706155, digits: 3 } },
  force: { metric: { unit: 'mN', factor: 1000, digits: 1 }, inch: { unit: 'gf', factor: 1 / 0.00980665, digits: 3 } },
  speed: { metric: { unit: 'm/s', factor: 1, digits: 2 }, inch: { unit: 'ft/s', factor: 1 / 0.3048, digits: 2 } },
  rotation: { metric: { unit: 'rev/min', factor: 60, digits: 0 }, inch: { unit: 'rev/min', factor: 60, digits: 0 } },
  energy: { metric: { unit: 'J', factor: 1, digits: 2 }, inch: { unit: 'J', factor: 1, digits: 2 } },
  density: { metric: { unit: 'kg/m³', factor: 1, digits: 3 }, inch: { unit: 'lb/ft³', factor: 1 / 16.018463374, digits: 4 } },
  pressure: { metric: { unit: 'hPa', factor: 0.01, digits: 0 }, inch: { unit: 'inHg', factor: 1 / 3386.389, digits: 2 } },
  viscosity: { metric: { unit: 'µPa·s', factor: 1e6, digits: 1 }, inch: { unit: 'µPa·s', factor: 1e6, digits: 1 } },
  angle: { metric: { unit: '°', factor: 180 / Math.PI, digits: 1 }, inch: { unit: '°', factor: 180 / Math.PI, digits: 1 } },
  angle_deg: { metric: { unit: '°', factor: 1, digits: 1 }, inch: { unit: '°', factor: 1, digits: 1 } },
  turns: { metric: { unit: 'turns', factor: 1, digits: 0 }, inch: { unit: 'turns', factor: 1, digits: 0 } },
  ratio: { metric: { unit: '', factor: 1, digits: 3 }, inch: { unit: '', factor: 1, digits: 3 } },
  share: { metric: { unit: '%', factor: 100, digits: 0 }, inch: { unit: '%', factor: 100, digits: 0 } },
  minutes: { metric: { unit: 'min', factor: 1 / 60, digits: 0 }, inch: { unit: 'min', factor: 1 / 60, digits: 0 } },
} as const satisfies Record<string, Record<Profile, Show>>;

export type Quantity = keyof typeof quantities;

export function show_of(quantity: Quantity, profile: Profile): Show {
  return quantities[quantity][profile];
}

/** The number in the shown unit. */
export function in_unit(si: number, quantity: Quantity, profile: Profile): number {
  const show = show_of(quantity, profile);
  return si * show.factor + (show.offset ?? 0);
}

/** Back to SI from the shown unit: for handles dragged in a drawing. */
export function to_si(shown: number, quantity: Quantity, profile: Profile): number {
  const show = show_of(quantity, profile);
  return (shown - (show.offset ?? 0)) / show.factor;
}

/** "8.5" */
export function number_text(si: number, quantity: Quantity, profile: Profile, digits?: number): string {
  const show = show_of(quantity, profile);
  return fixed(in_unit(si, quantity, profile), digits ?? show.digits);
}

/** "8.5 m", "45°", "52 %" */
export function quantity_text(si: number, quantity: Quantity, profile: Profile, digits?: number): string {
  const { unit } = show_of(quantity, profile);
  const number = number_text(si, quantity, profile, digits);
  if (unit === '') return number;
  return unit === '°' ? `${number}°` : `${number}\u00a0${unit}`;
}

/** "+0.11 mN·m": a difference; offsets of scales do not enter. */
export function difference_text(si: number, quantity: Quantity, profile: Profile, digits?: number): string {
  const { unit, factor, digits: usual } = show_of(quantity, profile);
  const number = signed(si * factor, digits ?? usual);
  if (unit === '') return number;
  return unit === '°' ? `${number}°` : `${number}\u00a0${unit}`;
}

/** Round tick values between two bounds (in the shown unit), about `count` of them. */
export function ticks(low: number, high: number, count = 5): number[] {
  if (!(high > low) || !Number.isFinite(low) || !Number.isFinite(high)) return [];
  const rough = (high - low) / Math.max(1, count);
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 2.5, 5, 10].map((m) => m * power).find((s) => s >= rough * 0.999) ?? 10 * power;
  const values: number[] = [];
  for (let index = Math.ceil(low / step - 1e-9); index * step <= high + step * 1e-9; ++index) {
    values.push(Number((index * step).toPrecision(12)));
  }
  return values;
}

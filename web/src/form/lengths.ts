// Lengths of the bench as text: a tenth of a millimetre, a hundredth of an inch.
import type { Profile } from '../api/types';
import { number_text, quantity_text, show_of } from '../lib/quantity';

const bench_digits = { metric: 1, inch: 2 } as const;

/** "111.5", "4.39" */
export const bench_number = (si_m: number, profile: Profile): string => number_text(si_m, 'size', profile, bench_digits[profile]);
/** "111.5 mm", "4.39 in" */
export const bench_text = (si_m: number, profile: Profile): string => quantity_text(si_m, 'size', profile, bench_digits[profile]);
/** "701", "27.6": a pitch is not known nearer. */
export const pitch_number = (si_m: number, profile: Profile): string => number_text(si_m, 'size', profile, profile === 'inch' ? 1 : 0);
export const pitch_text = (si_m: number, profile: Profile): string => quantity_text(si_m, 'size', profile, profile === 'inch' ? 1 : 0);
/** "112", "4.4": where a number only names a place. */
export const place_number = pitch_number;
export const length_unit = (profile: Profile): string => show_of('size', profile).unit;

/** What goes to the server for a length: "90.0 mm". */
export function wish_text(si_m: number, profile: Profile): string {
  return profile === 'inch' ? `${(si_m / 0.0254).toFixed(3)} in` : `${(si_m * 1000).toFixed(1)} mm`;
}

const bare = /^\s*[-+]?(?:\d+\.?\d*|\.\d+)\s*$/;

/** What was typed, with the unit meant where only a number was. */
export function with_unit(typed: string, unit: string): string {
  const text = typed.trim();
  return bare.test(text) ? `${text} ${unit}` : text;
}

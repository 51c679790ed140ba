// How the figures of spars are shown. Conversion for display only.
import type { Profile } from '../../api/types';
import type { Show } from '../../lib/quantity';
import { fixed } from '../../lib/format';
import { fine_unit, long_unit } from '../texts';

const fine = { inch: { factor: 1 / 25.4e-6, size: 1, reading: 0 }, metric: { factor: 1000, size: 2, reading: 2 } } as const;

/** "59.5" thou, "1.51" mm. */
export const size_number = (si_m: number, profile: Profile): string => fixed(si_m * fine[profile].factor, fine[profile].size);
/** "414" thou, "10.52" mm. */
export const reading_number = (si_m: number, profile: Profile): string => fixed(si_m * fine[profile].factor, fine[profile].reading);
export const reading_text = (si_m: number, profile: Profile): string => `${reading_number(si_m, profile)}\u00a0${fine_unit(profile)}`;
/** "7.25 in", "184 mm". */
export const long_text = (si_m: number, profile: Profile): string =>
  `${profile === 'inch' ? fixed(si_m / 0.0254, 2) : fixed(si_m * 1000, 0)}\u00a0${long_unit(profile)}`;
/** "27.1 mg" */
export const mass_number = (kg: number): string => fixed(kg * 1e6, 1);
/** Young's modulus, GPa. */
export const modulus_number = (pa: number): string => fixed(pa / 1e9, 2);

export const ei_show: Show = { unit: 'N\u00b7mm\u00b2', factor: 1e6, digits: 0 };
export const ei_number = (si_Nm2: number): string => fixed(si_Nm2 * ei_show.factor, ei_show.digits);

/** "19 ± 1" per cent of a difference and its doubt. */
export function percent_number(relative: number, sigma: number | null): string {
  const digits = sigma !== null && sigma < 0.005 ? 1 : 0;
  return sigma === null ? fixed(relative * 100, digits) : `${fixed(relative * 100, digits)}\u00a0±\u00a0${fixed(sigma * 100, digits)}`;
}

/** What came off each of two faces: "0.3", "0.3 at side", "0.3 up, 0.2 side"; empty where nothing did. */
export function off_text(off_0_m: number, off_90_m: number, profile: Profile): string {
  const number = (si_m: number) => fixed(si_m * fine[profile].factor, profile === 'inch' ? 1 : 2);
  if (off_0_m > 0 && off_90_m > 0) return Math.abs(off_0_m - off_90_m) < 1e-9 ? `${number(off_0_m)} all four` : `${number(off_0_m)} up, ${number(off_90_m)} side`;
  if (off_90_m > 0) return `${number(off_90_m)} at side`;
  return off_0_m > 0 ? number(off_0_m) : '';
}

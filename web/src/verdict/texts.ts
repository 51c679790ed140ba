// Words and signs of the verdict: odds in a hundred, days, and how each propeller is drawn.
import { fixed } from '../lib/format';

/** How a propeller is drawn wherever it stands: never by colour alone. */
export type Look = { hue: 'a' | 'b' | 'ink'; shape: 'round' | 'square' | 'triangle' | 'diamond'; dash: string };

const looks: readonly Look[] = [
  { hue: 'a', shape: 'round', dash: '' },
  { hue: 'b', shape: 'square', dash: '8 3' },
  { hue: 'ink', shape: 'triangle', dash: '2 2.5' },
  { hue: 'ink', shape: 'diamond', dash: '9 3 2 3' },
];

export const look_of = (index: number): Look => looks[Math.min(Math.max(index, 0), looks.length - 1)]!;

/**
 * "88" of a hundred. A number that is short of the threshold is not rounded up to it, and none is told as certain.
 */
export function in_hundred(probability: number, sure = 1): string {
  if (!Number.isFinite(probability)) return '–';
  if (probability > 0.995) return 'over 99';
  if (probability < 0.005) return 'under 1';
  const rounded = Math.round(probability * 100);
  if (probability < sure && rounded >= Math.round(sure * 100)) return fixed(Math.floor(probability * 1000) / 10, 1);
  return String(rounded);
}

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** "18 Nov" of a log's local time, "" where it has none. */
export function day_of(time: string): string {
  const found = /^\d{4}-(\d{2})-(\d{2})/.exec(time);
  const month = found ? months[Number(found[1]) - 1] : undefined;
  return found && month ? `${Number(found[2])}\u00a0${month}` : '';
}

/** "18 to 24 Nov", "30 Oct to 2 Nov", "18 Nov"; the year where it is not one and the same. */
export function days_between(times: readonly string[]): string {
  const dated = times.filter((time) => day_of(time) !== '').sort();
  const first = dated[0], last = dated.at(-1);
  if (first === undefined || last === undefined) return '';
  if (first.slice(0, 10) === last.slice(0, 10)) return day_of(first);
  if (first.slice(0, 4) !== last.slice(0, 4)) return `${day_of(first)}\u00a0${first.slice(0, 4)} to ${day_of(last)}\u00a0${last.slice(0, 4)}`;
  if (first.slice(0, 7) === last.slice(0, 7)) return `${Number(first.slice(8, 10))} to ${day_of(last)}`;
  return `${day_of(first)} to ${day_of(last)}`;
}

/** "14:05" of a log's local time. */
export const hour_of = (time: string): string => /T(\d{2}:\d{2})/.exec(time)?.[1] ?? '';

/** "18 Nov, 14:05"; "undated". */
export const when = (time: string): string => [day_of(time), hour_of(time)].filter(Boolean).join(', ') || 'undated';

/** "+1.2 %" about one: 1.012. */
export function off_sheet(factor: number): string {
  const percent = (factor - 1) * 100;
  const text = fixed(percent, Math.abs(percent) < 9.95 ? 1 : 0);
  return /^[\u2212]/.test(text) || Number(text) === 0 ? text : `+${text}`;
}

/** Milligrams below a gram, whole: "6 mg". */
export const milligrams = (mass_kg: number): string => `${fixed(mass_kg * 1e6, 0)}\u00a0mg`;

/** A doubt stays on the line of its number. */
export const unbroken = (words: string): string => words.replaceAll(' ± ', '\u00a0±\u00a0').replaceAll('± ', '±\u00a0');

// What is believed before the flights, and when a verdict is given: each with the unit it is entered in.
import type { Beliefs, Thresholds } from '../api/verdict';

export type Entry = {
  key: string;
  label: string;
  unit: string;
  /** Shown number over the program's. */
  factor: number;
  low: number;
  high: number;
  whole?: boolean;
  /** Shown while nothing holds. */
  none?: string;
  note: string;
};
export type NumberKey<T> = { [K in keyof T]-?: T[K] extends number | undefined ? K : never }[keyof T] & string;

export const belief_entries: readonly (Entry & { key: NumberKey<Beliefs> })[] = [
  { key: 'scatter_median', label: 'Usual scatter of a flight', unit: '%', factor: 100, low: 0.1, high: 50, note: 'of its time; 4 % is common practice' },
  { key: 'scatter_spread', label: 'Doubt of that scatter', unit: '', factor: 1, low: 0.01, high: 3, none: 'flat', note: 'of its logarithm; 0.7 is a factor of 2 either way' },
  { key: 'tail_freedom', label: 'Freedom of the heavy tail', unit: '', factor: 1, low: 1, high: 200, none: 'normal', note: 'small: a bad flight counts for little' },
  { key: 'day_scatter', label: 'A day shifts all its times by', unit: '%', factor: 100, low: 0, high: 30, note: 'about; good or bad air, the same for all. 0: nothing' },
  { key: 'level_sigma', label: 'Propellers differ by about', unit: '%', factor: 100, low: 0.1, high: 100, none: 'anything', note: 'beforehand; empty: anything is as likely' },
];

export const threshold_entries: readonly (Entry & { key: NumberKey<Thresholds> })[] = [
  { key: 'sure', label: 'Settled past', unit: 'in 100', factor: 100, low: 50, high: 99.9, note: 'odds of the best' },
  { key: 'sure_without_one', label: 'And without any one flight', unit: 'in 100', factor: 100, low: 0, high: 99.9, note: 'so that no single flight decides' },
  { key: 'margin', label: 'A difference that matters', unit: '%', factor: 100, low: 0.01, high: 20, note: 'below it either will do' },
  { key: 'least_flights', label: 'Flights of each, at least', unit: '', factor: 1, low: 1, high: 100, whole: true, note: 'before any verdict' },
  { key: 'planned', label: 'Plan for a chance of', unit: 'in 100', factor: 100, low: 5, high: 99, note: 'that the further flights settle it' },
  { key: 'most_flights', label: 'Plan at most', unit: 'of each', factor: 1, low: 1, high: 1000, whole: true, note: 'further flights' },
];

export const shown = (value: number, { factor }: Entry): string => String(Number((value * factor).toPrecision(4)));

export type Read = { value: number | null } | { wrong: string };

/** Null for an empty field: as usual. */
export function read_entry(text: string, entry: Entry): Read {
  const plain = text.trim().replace(',', '.').replace('\u2212', '-').replace(/\s*(%|in 100|of each)$/, '');
  if (plain === '') return { value: null };
  const number = Number(plain);
  const allowed = `Allowed: ${entry.low} to ${entry.high}${entry.unit ? `\u00a0${entry.unit}` : ''}; empty is as usual.`;
  if (!/^-?(\d+\.?\d*|\.\d+)$/.test(plain) || !Number.isFinite(number)) return { wrong: `This is no number. ${allowed}` };
  if (entry.whole && !Number.isInteger(number)) return { wrong: `A whole number is wanted. ${allowed}` };
  if (number < entry.low || number > entry.high) return { wrong: `${plain} is out of range. ${allowed}` };
  return { value: Number((number / entry.factor).toPrecision(10)) };
}

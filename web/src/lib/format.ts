// Numbers as text. No physics here: only rounding, signs and words.

export const minus = '\u2212';
const narrow_space = '\u202f';

/** Fixed decimals with a true minus sign and thin spaces from ten thousand on. */
export function fixed(value: number, digits: number): string {
  if (!Number.isFinite(value)) return '\u2013';
  let text = Math.abs(value).toFixed(Math.max(0, digits));
  const negative = value < 0 && Number(text) !== 0;
  const [whole = '0', part] = text.split('.');
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+(?!\d))/g, narrow_space) : whole;
  text = part === undefined ? grouped : `${grouped}.${part}`;
  return negative ? minus + text : text;
}

/** As fixed, with a plus sign before what is not negative: for differences. */
export function signed(value: number, digits: number): string {
  const text = fixed(value, digits);
  return text.startsWith(minus) || text === '\u2013' ? text : `+${text}`;
}

/** Drops zeros at the end of the decimals: "3.50" is "3.5", "8.00" is "8". */
export function short(value: number, digits: number): string {
  const text = fixed(value, digits);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/** Three significant digits, without an exponent where it can be helped. */
export function significant(value: number, count = 3): string {
  if (!Number.isFinite(value)) return '\u2013';
  if (value === 0) return '0';
  const power = Math.floor(Math.log10(Math.abs(value)));
  return fixed(value, Math.max(0, count - 1 - power));
}

export type DurationParts = { minutes: number; seconds: number };

/** Whole minutes and seconds, rounded to the second once (59.6 s is 1 min 00 s). */
export function duration_parts(seconds: number): DurationParts {
  const whole = Math.round(Math.abs(seconds));
  return { minutes: Math.floor(whole / 60), seconds: whole % 60 };
}

/** "9 min 07 s", "41 s". */
export function duration(seconds: number): string {
  if (!Number.isFinite(seconds)) return '\u2013';
  const { minutes, seconds: rest } = duration_parts(seconds);
  const sign = seconds < 0 && minutes + rest > 0 ? minus : '';
  if (minutes === 0) return `${sign}${rest}\u00a0s`;
  return `${sign}${minutes}\u00a0min ${String(rest).padStart(2, '0')}\u00a0s`;
}

/** "9:07": for axes and tables. */
export function clock(seconds: number): string {
  if (!Number.isFinite(seconds)) return '\u2013';
  const { minutes, seconds: rest } = duration_parts(seconds);
  const sign = seconds < 0 && minutes + rest > 0 ? minus : '';
  return `${sign}${minutes}:${String(rest).padStart(2, '0')}`;
}

/** "+0:26" or "−3:20". */
export function signed_clock(seconds: number): string {
  const text = clock(seconds);
  return text.startsWith(minus) ? text : `+${text}`;
}

/** "one", "two" … for counts in sentences; digits from thirteen on. */
export function count_word(count: number): string {
  const words = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'];
  return words[count] ?? String(count);
}

// Dates as builders write them. Year first is ISO 8601; with dots the day stands first; with strokes or dashes
// it may be either, and the builder says which where the file itself does not.
export type DateOrder = 'day' | 'month';

const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const month_words = ['January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September', 'October', 'November', 'December'];
const two = (value: number | string) => String(value).padStart(2, '0');
const stroked = /^(\d{1,2})([/-])(\d{1,2})\2(\d{4}|\d{2})(?=$|[\sT,])/;

/** "14:05", "2:05 pm", "14.05 h" as "14:05"; with seconds where it has them. Undefined: it is none. */
export function time_of_day(text: string): string | undefined {
  const found = /^(\d{1,2})[:.](\d{2})(?::(\d{2})(?:\.\d+)?)?\s*(?:(am|pm)|h|Z)?$/i.exec(text.trim());
  if (!found) return undefined;
  const half = found[4]?.toLowerCase();
  const hour = Number(found[1]);
  if (half ? hour < 1 || hour > 12 : hour > 23) return undefined;
  if (Number(found[2]) > 59 || Number(found[3] ?? 0) > 59) return undefined;
  return `${two(half ? (hour % 12) + (half === 'pm' ? 12 : 0) : hour)}:${found[2]}${found[3] ? `:${found[3]}` : ''}`;
}

function day_text(year_text: string, month: number, day: number): string | undefined {
  const year = year_text.length === 2 ? 2000 + Number(year_text) : Number(year_text);
  const last = new Date(Date.UTC(year, month, 0)).getUTCDate();
  return month >= 1 && month <= 12 && day >= 1 && day <= last ? `${year}-${two(month)}-${two(day)}` : undefined;
}

function parted(text: string, order: DateOrder): { day: string | undefined; rest: string } | undefined {
  const rest = (found: RegExpExecArray) => text.slice(found[0].length).replace(/^[\sT,]+/, '');
  const iso = /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})(?=$|[\sT,])/.exec(text);
  if (iso) return { day: day_text(iso[1]!, Number(iso[3]), Number(iso[4])), rest: rest(iso) };
  const dotted = /^(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4}|\d{2})(?=$|[\s,])/.exec(text);
  if (dotted) return { day: day_text(dotted[3]!, Number(dotted[2]), Number(dotted[1])), rest: rest(dotted) };
  const either = stroked.exec(text);
  if (either) {
    const [first, second] = [Number(either[1]), Number(either[3])];
    return { day: order === 'day' ? day_text(either[4]!, second, first) : day_text(either[4]!, first, second), rest: rest(either) };
  }
  const worded = /^(\d{1,2})\.?[\s-]+([a-z]{3})[a-z]*\.?[\s,-]+(\d{4})(?=$|[\s,])/i.exec(text);
  if (worded) return { day: day_text(worded[3]!, months.indexOf(worded[2]!.toLowerCase()) + 1, Number(worded[1])), rest: rest(worded) };
  const american = /^([a-z]{3})[a-z]*\.?\s+(\d{1,2}),?\s+(\d{4})(?=$|[\s,])/i.exec(text);
  if (american) return { day: day_text(american[3]!, months.indexOf(american[1]!.toLowerCase()) + 1, Number(american[2])), rest: rest(american) };
  return undefined;
}

/** "2026-11-21" or "2026-11-21T14:05" out of a cell; undefined for what is no date, or a day that is in no calendar. */
export function read_date(cell: string, order: DateOrder): string | undefined {
  const found = parted(cell.trim(), order);
  if (!found?.day) return undefined;
  if (found.rest === '') return found.day;
  const time = time_of_day(found.rest);
  return time === undefined ? undefined : `${found.day}T${time}`;
}

/** "11/02/2026 19:30" as both dates that it may be, day first and month first; null where it is one. */
export function as_either(cell: string): readonly [string, string] | null {
  if (!stroked.test(cell.trim())) return null;
  const day = read_date(cell, 'day'), month = read_date(cell, 'month');
  return day !== undefined && month !== undefined && day !== month ? [day, month] : null;
}

/** Later than the clock of this device says, by more than zones and a clock set badly explain: 36 hours. */
export const ahead = (iso: string, now_ms: number): boolean => Date.parse(`${iso.slice(0, 10)}T00:00`) > now_ms + 36 * 3600_000;

/** The dates in a column that may be read in two ways. */
export const stroked_dates = (cells: readonly string[]): string[] => cells.filter((cell) => stroked.test(cell.trim()));

/** Month first only where the file itself shows that it is not day first. */
export function order_of(cells: readonly string[]): DateOrder {
  const parts = stroked_dates(cells).map((cell) => stroked.exec(cell.trim())!);
  return parts.some(([, , , second]) => Number(second) > 12) && !parts.some(([, first]) => Number(first) > 12) ? 'month' : 'day';
}

/** "3 April 2026": how a date was read, beyond doubt. */
export const day_words = (iso: string): string => `${Number(iso.slice(8, 10))}\u00a0${month_words[Number(iso.slice(5, 7)) - 1] ?? ''} ${iso.slice(0, 4)}${iso.length > 10 ? `, ${iso.slice(11, 16)}` : ''}`;

// What is typed at the bench, as the text with units that is kept and sent. Nothing is worked out here.
import type { Profile } from '../api/types';

/** Sizes and readings of spars. */
export const fine_unit = (profile: Profile): 'thou' | 'mm' => (profile === 'inch' ? 'thou' : 'mm');
/** Lengths along a spar. */
export const long_unit = (profile: Profile): 'in' | 'mm' => (profile === 'inch' ? 'in' : 'mm');

const number = /^[-+\u2212]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?$/i;
const whole = /^[-+\u2212]?\d+$/;
const fraction = /^\d+\/\d+$/;
/** "59.5thou" is a number and its unit. */
const glued = /^([-+\u2212]?(?:\d+\.?\d*|\.\d+|\d+\/\d+))([a-z"'\u00b5\u2032\u2033].*)$/i;

const plain = (text: string) => text.replace('\u2212', '-').replace(/^\+/, '');

function pieces_of(text: string): string[] {
  return text
    .split(/[\s;]+|\+(?=\s|\d|\.|$)/)
    .filter((piece) => piece !== '')
    .flatMap((piece) => {
      const parts = glued.exec(piece);
      return parts ? [parts[1]!, parts[2]!] : [piece];
    });
}

/**
 * "352 351 353", "8.94 mm 8.91 mm", "352 + 351": each reading with its unit. One without a unit has that of
 * the next one that has one, the last ones `unit`. What is not understood goes on as written: the server
 * says what is wrong with it.
 */
export function repeats(text: string, unit: string): string[] {
  const pieces = pieces_of(text);
  const values: { value: string; unit: string }[] = [];
  for (let index = 0; index < pieces.length; ++index) {
    const piece = pieces[index]!;
    const next = pieces[index + 1];
    if (whole.test(piece) && next !== undefined && fraction.test(next)) {
      values.push({ value: `${plain(piece)} ${next}`, unit: '' });
      ++index;
    } else if (number.test(piece) || fraction.test(piece)) {
      values.push({ value: plain(piece), unit: '' });
    } else {
      const last = values.at(-1);
      if (!last) return [text.trim()];
      last.unit = last.unit ? `${last.unit} ${piece}` : piece;
    }
  }
  let meant = unit;
  return values
    .reverse()
    .map((each) => {
      if (each.unit) meant = each.unit;
      return `${each.value} ${each.unit || meant}`;
    })
    .reverse();
}

/** Readings as one text for the record: "352 351 353 thou" where all have one unit. */
export function joined(readings: readonly string[]): string {
  const parts = readings.map((text) => /^(.*\d)\s*(\S.*)$/.exec(text));
  const unit = parts[0]?.[2];
  if (unit !== undefined && parts.every((part) => part?.[2] === unit)) return `${parts.map((part) => part![1]).join(' ')} ${unit}`;
  return readings.join(' ');
}

/** A bare number or fraction gets `unit`; all else goes as written. */
export function with_unit(text: string, unit: string): string {
  const trimmed = text.trim().replace('\u2212', '-');
  return /^[-+]?(?:\d+\.?\d*|\.\d+|(?:\d+\s+)?\d+\/\d+)$/.test(trimmed) ? `${trimmed.replace(/^\+/, '')} ${unit}` : trimmed;
}

/** "75 x 80": width and depth, each with its unit; one size alone is both, and `depth` is then empty. */
export function two_sizes(text: string, unit: string): { width: string; depth: string } {
  const parts = text.split(/\s*[x\u00d7*]\s*/i).filter((part) => part !== '');
  if (parts.length !== 2) return { width: text.trim() === '' ? '' : with_unit(text, unit), depth: '' };
  const depth = with_unit(parts[1]!, unit);
  const of_depth = /^[-+]?[\d./ ]*\d\s*(.*)$/.exec(depth)?.[1] || unit;
  return { width: with_unit(parts[0]!, of_depth), depth };
}

/** What was typed names a unit of its own: the field's is not shown then. */
export const has_unit = (text: string | undefined): boolean => /[a-wyz%"'\u00b5]/i.test(text ?? '');

/** The text as a field shows it: without the unit where that is the one the field shows. */
export function without_unit(text: string | undefined, unit: string): string {
  if (!text) return '';
  return text.endsWith(` ${unit}`) ? text.slice(0, -unit.length - 1) : text;
}

/** Width and depth as a field shows them: "75 × 80". */
export function sizes_shown(width: string | undefined, depth: string | undefined, unit: string): string {
  const shown = without_unit(width, unit);
  return depth ? `${shown} \u00d7 ${without_unit(depth, unit)}` : shown;
}

/** The name after this one: "11" is "12", "A09" is "A10", "long" is "long 2". */
export function next_name(name: string): string {
  const parts = /^(.*?)(\d+)$/.exec(name.trim());
  if (!parts) return name.trim() === '' ? '1' : `${name.trim()} 2`;
  const digits = parts[2]!;
  return parts[1]! + String(Number(digits) + 1).padStart(digits.length, '0');
}

// Data to path text. One decimal of a pixel is finer than any screen shows.
import type { Scale } from './scale';

const point = (x: number, y: number) => `${Math.round(x * 10) / 10} ${Math.round(y * 10) / 10}`;

/** Open line; holes in y lift the pen. */
export function line_path(x: readonly number[], y: readonly (number | null)[], sx: Scale, sy: Scale): string {
  let text = '';
  let pen = 'M';
  for (let i = 0; i < x.length; ++i) {
    const value = y[i];
    const along = x[i];
    if (value === null || value === undefined || along === undefined || !Number.isFinite(value)) {
      pen = 'M';
      continue;
    }
    text += pen + point(sx.at(along), sy.at(value));
    pen = 'L';
  }
  return text;
}

/** Closed shape between two lines over the same x. */
export function band_path(
  x: readonly number[], low: readonly number[], high: readonly number[], sx: Scale, sy: Scale,
): string {
  const count = Math.min(x.length, low.length, high.length);
  if (count < 2) return '';
  let text = 'M';
  for (let i = 0; i < count; ++i) text += (i ? 'L' : '') + point(sx.at(x[i]!), sy.at(high[i]!));
  for (let i = count - 1; i >= 0; --i) text += 'L' + point(sx.at(x[i]!), sy.at(low[i]!));
  return text + 'Z';
}

/** Short strokes over a roof line. */
export function hatch_path(from: number, to: number, y: number, pitch = 9, rise = 6): string {
  let text = '';
  for (let x = from; x + rise <= to + 0.1; x += pitch) text += `M${point(x, y)}l${rise} ${-rise}`;
  return text;
}

/** Value at x on a line given by points, linear between them; null outside and beside holes. */
export function value_at(x: readonly number[], y: readonly (number | null)[], at: number): number | null {
  const last = x.length - 1;
  if (last < 0) return null;
  const falling = x[0]! > x[last]!;
  const before = (value: number) => (falling ? value > at : value < at);
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (before(x[middle]!)) low = middle;
    else high = middle;
  }
  const a = x[low]!;
  const b = x[high]!;
  const ya = y[low];
  const yb = y[high];
  if (at === a && ya !== null && ya !== undefined) return ya;
  if (at === b && yb !== null && yb !== undefined) return yb;
  if ((at - a) * (at - b) > 0) return null;
  if (ya === null || yb === null || ya === undefined || yb === undefined) return null;
  return b === a ? yb : ya + ((yb - ya) * (at - a)) / (b - a);
}

// Linear axes with round ticks in the shown unit.
import { fixed } from '../lib/format';
import type { Show } from '../lib/quantity';
import type { Axis, Tick } from './types';

/**
 * The same object for the same key, so that what hangs on it is not drawn anew. Bounded: scales of
 * states long gone are dropped.
 */
function remembered<T>(most = 400): (key: string, make: () => T) => T {
  const kept = new Map<string, T>();
  return (key, make) => {
    const found = kept.get(key);
    if (found !== undefined) return found;
    if (kept.size >= most) kept.clear();
    const made = make();
    kept.set(key, made);
    return made;
  };
}
const scales = remembered<Scale>();
const axes = remembered<Axis>();

/** Maps [low, high] to pixels and back. */
export type Scale = { at: (value: number) => number; back: (pixel: number) => number; per_unit: number };

/** The same bounds give the same object. */
export function linear(low: number, high: number, from: number, to: number): Scale {
  return scales(`${low} ${high} ${from} ${to}`, () => new_scale(low, high, from, to));
}

function new_scale(low: number, high: number, from: number, to: number): Scale {
  const span = high - low;
  const per_unit = span === 0 ? 0 : (to - from) / span;
  return {
    per_unit,
    at: (value) => from + (value - low) * per_unit,
    back: (pixel) => (per_unit === 0 ? low : low + (pixel - from) / per_unit),
  };
}

/** The smallest of 1, 2, 5 times a power of ten that is not under `rough`. */
export function round_step(rough: number): number {
  if (!(rough > 0) || !Number.isFinite(rough)) return 1;
  const power = 10 ** Math.floor(Math.log10(rough) + 1e-9);
  const lead = rough / power;
  const factor = lead <= 1 + 1e-9 ? 1 : lead <= 2 + 1e-9 ? 2 : lead <= 5 + 1e-9 ? 5 : 10;
  return Number((factor * power).toPrecision(12));
}

/** Decimals needed to write multiples of this step. */
export function step_digits(step: number): number {
  for (let digits = 0; digits < 9; ++digits) {
    if (Math.abs(step * 10 ** digits - Math.round(step * 10 ** digits)) < 1e-6 * step * 10 ** digits) return digits;
  }
  return 9;
}

export type AxisOptions = {
  title?: string;
  /** About this many steps. */
  count?: number;
  /** Ends at round values; otherwise just at low and high. */
  round?: boolean;
  say?: (si: number) => string;
  tick_text?: (shown: number, digits: number) => string;
};

/** An axis over SI bounds whose ticks are round in the shown unit. The same title, bounds and unit give the same object. */
export function axis(low: number, high: number, show: Show, options: AxisOptions = {}): Axis {
  const key = `${options.title} ${low} ${high} ${show.unit} ${show.factor} ${show.offset} ${show.digits} ${options.count} ${options.round}`;
  return axes(key, () => new_axis(low, high, show, options));
}

function new_axis(low: number, high: number, show: Show, options: AxisOptions): Axis {
  const { title = '', count = 4, round = true } = options;
  const offset = show.offset ?? 0;
  let a = low * show.factor + offset;
  let b = high * show.factor + offset;
  if (!(b > a)) {
    const pad = Math.max(Math.abs(a) * 0.05, 1e-9);
    a -= pad;
    b = a + 2 * pad;
  }
  // A step a little finer than asked for is better than one half as many.
  const step = round_step(((b - a) / Math.max(1, count)) * 0.72);
  if (round) {
    a = Math.floor(a / step + 1e-6) * step;
    b = Math.ceil(b / step - 1e-6) * step;
  }
  const digits = step_digits(step);
  const tick_text = options.tick_text ?? ((shown: number, places: number) => fixed(shown, places));
  const ticks: Tick[] = [];
  for (let index = Math.ceil(a / step - 1e-6); index * step <= b + step * 1e-6; ++index) {
    const shown = Number((index * step).toPrecision(12));
    ticks.push({ at: (shown - offset) / show.factor, text: tick_text(shown, digits) });
  }
  const say = options.say ?? ((si: number) => {
    const text = fixed(si * show.factor + offset, show.digits);
    return show.unit === '' ? text : show.unit === '°' ? `${text}°` : `${text}\u00a0${show.unit}`;
  });
  return { title, show, low: (a - offset) / show.factor, high: (b - offset) / show.factor, ticks, say };
}

/** Least and greatest of several columns, holes left out; null when there is nothing. */
export function extent(columns: readonly (readonly (number | null)[])[]): [number, number] | null {
  let low = Infinity;
  let high = -Infinity;
  for (const column of columns) {
    for (const value of column) {
      if (value === null || !Number.isFinite(value)) continue;
      if (value < low) low = value;
      if (value > high) high = value;
    }
  }
  return low <= high ? [low, high] : null;
}

/**
 * Bounds that keep still under the hand. At rest they are the data with some room; while something is
 * dragged they stay, and grow only where the data themselves would leave, so that a scale never runs
 * away from the handle.
 */
export class SteadyBounds {
  #kept: [number, number] | null = null;

  next(low: number, high: number, dragging: boolean, room_low = 0, room_high = room_low): [number, number] {
    if (!dragging || !this.#kept) this.#kept = [low - room_low, high + room_high];
    else if (low < this.#kept[0] || high > this.#kept[1]) {
      this.#kept = [Math.min(low, this.#kept[0]), Math.max(high, this.#kept[1])];
    }
    return this.#kept;
  }
}

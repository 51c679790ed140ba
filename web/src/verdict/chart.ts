// Flights in the order flown against something read of each: where every mark, band and word of that chart stands.
import { overlap, text_width, type Box } from '../charts/labels';
import { axis, linear, type Scale } from '../charts/scale';
import type { Axis } from '../charts/types';
import type { Show } from '../lib/quantity';
import type { Look } from './texts';

export type FlightMark = {
  /** Number of the flight in the log that was sent, from 1. */
  flight: number;
  letter: string;
  look: Look;
  /** Null: nothing to draw it at. */
  value: number | null;
  /** One standard deviation. */
  sigma: number | null;
  /** Where it stood before, drawn as a ghost. */
  before?: number | null;
  /** Counts less than in full: drawn hollow. */
  hollow: boolean;
  /** Dashed ring: steered. */
  ringed: boolean;
  /** Cross: left out. */
  crossed: boolean;
  /** Beside the mark, "" for none. */
  word: string;
  /** The whole of it in words, read at the cursor. */
  said: string;
};

export type FlightBand = { key: string; look: Look; low: number; middle: number; high: number; end: string; end_note: string };

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
};

/**
 * Bounds of the values that lie with the others: one flight far off does not press the rest flat. It stands at the edge, with
 * its value. `always` is within in any case.
 */
export function bounds_of(marks: readonly FlightMark[], always: readonly number[]): [number, number] {
  const values = marks.flatMap(({ value, crossed }) => (value === null || crossed ? [] : [value]));
  const known = [...always];
  if (values.length > 0) {
    const middle = median(values);
    const usual = Math.max(median(values.map((value) => Math.abs(value - middle))), 1e-4 * Math.max(1, Math.abs(middle)));
    for (const { value, sigma, crossed, before } of marks) {
      if (value === null || crossed || Math.abs(value - middle) > 6 * usual) continue;
      known.push(value - (sigma ?? 0), value + (sigma ?? 0));
      if (before !== undefined && before !== null && Math.abs(before - middle) <= 12 * usual) known.push(before);
    }
  }
  if (known.length === 0) return [-1, 1];
  const low = Math.min(...known), high = Math.max(...known);
  return high > low ? [low, high] : [low - 1, high + 1];
}

export type Chart = { x: (place: number) => number; y: Axis; sy: Scale; left: number; right: number; top: number; bottom: number; step: number };

const left = 46;
const right_of = (width: number, ends: number): number => Math.max(left + 40, width - ends);

/** `ahead`: places kept free at the right for flights still to fly; `ends`: room for the words at the ends of the bands. */
export const step_of = (width: number, count: number, ahead: number, ends: number): number => (right_of(width, ends) - left) / Math.max(1, count + ahead);

/** `foot`: room under the axis for what tells the propellers. */
export function lay_out(width: number, height: number, foot: number, count: number, ahead: number, ends: number, low: number, high: number, show: Show): Chart {
  const right = right_of(width, ends), top = 10, bottom = height - foot;
  const y = axis(low, high, show, { count: 5 });
  const step = step_of(width, count, ahead, ends);
  return { x: (place) => left + (place + 0.5) * step, y, sy: linear(y.low, y.high, bottom, top), left, right, top, bottom, step };
}

/** Whether a value lies outside the axis, and to which side. */
export const beyond = (value: number, y: Axis): -1 | 0 | 1 => (value < y.low ? -1 : value > y.high ? 1 : 0);

export type Remark = { flight: number; text: string; x: number; y: number; anchor: 'start' | 'middle' | 'end' };

/**
 * Words at marks: beside a cross and what lies beyond the axis, under the doubt of the others, or over them. One that would cover a word
 * before it is left out. `mark_y`: where a mark is drawn; `size`: its radius.
 */
export function remarks_of(marks: readonly FlightMark[], chart: Chart, size: number, mark_y: (mark: FlightMark) => number): Remark[] {
  const font = 12;
  const taken: Box[] = [];
  return marks.flatMap((mark, place): Remark[] => {
    if (mark.word === '') return [];
    const side = mark.value === null ? 0 : beyond(mark.value, chart.y);
    const wide = text_width(mark.word, font);
    const px = chart.x(place);
    let remark: Remark = { flight: mark.flight, text: mark.word, x: px, y: 0, anchor: 'middle' };
    if (mark.crossed || side !== 0) {
      const left = px + size + 6 + wide > chart.right;
      remark = { ...remark, x: px + (left ? -1 : 1) * (size + 6), y: mark_y(mark) + 14 * side + 4, anchor: left ? 'end' : 'start' };
    } else {
      const below = mark.sigma === null || mark.value === null ? mark_y(mark) + size : Math.min(chart.bottom, chart.sy.at(mark.value - mark.sigma));
      // Over the mark where there is no room under it.
      remark = { ...remark, y: below + 13 <= chart.bottom - 2 ? below + 13 : mark_y(mark) - size - 5 };
    }
    const from = remark.anchor === 'start' ? remark.x : remark.anchor === 'end' ? remark.x - wide : remark.x - wide / 2;
    const box = { x: from, y: remark.y - font, width: wide, height: font * 1.2 };
    if (taken.some((other) => overlap(box, other) > 0)) return [];
    taken.push(box);
    return [remark];
  });
}

// The numbers behind a stack of charts, at evenly spaced round places.
import { fixed } from '../lib/format';
import { value_at } from './path';
import { round_step } from './scale';
import type { Axis, Panel } from './types';

export type Head = { name: string; unit: string };

/** About twenty round places along an axis, from where its data begin to their end, which is included. */
export function places_along(x: Axis, end: number, start = x.low): number[] {
  const { factor } = x.show;
  const offset = x.show.offset ?? 0;
  const low = Math.max(x.low, start) * factor + offset;
  const high = Math.min(x.high, end) * factor + offset;
  const step = round_step((high - low) / 24);
  const places: number[] = [];
  for (let index = Math.ceil(low / step - 1e-6); index * step <= high + step * 1e-6; ++index) {
    places.push((Number((index * step).toPrecision(12)) - offset) / factor);
  }
  const last = places.at(-1);
  if (last !== undefined && end <= x.high && end - last > ((x.high - x.low) / 24) * 0.2) places.push(end);
  return places;
}

export function table_of(x: Axis, panels: readonly Panel[]): { heads: Head[]; rows: string[][] } {
  const columns = panels.flatMap((panel) =>
    (panel.lines ?? [])
      .filter((line) => !line.guide)
      .map((line) => ({ line, panel, head: { name: line.name === panel.title ? line.name : `${panel.title}, ${line.name}`, unit: panel.y.show.unit } })),
  );
  const end = Math.max(...columns.map(({ line }) => line.x.at(-1) ?? x.low), x.low);
  const start = Math.min(...columns.map(({ line }) => line.x[0] ?? x.high), end);
  const rows = places_along(x, end, start).map((at) => [
    x.say(at),
    ...columns.map(({ line, panel }) => {
      const value = value_at(line.x, line.y, at);
      return value === null ? '' : fixed(value * panel.y.show.factor + (panel.y.show.offset ?? 0), panel.y.show.digits);
    }),
  ]);
  return { heads: [{ name: x.title, unit: '' }, ...columns.map(({ head }) => head)], rows };
}

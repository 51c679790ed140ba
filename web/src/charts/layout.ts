// Where the parts of a stack of charts stand, in pixels.
import { linear, type Scale } from './scale';
import type { Axis, Panel } from './types';
import { text_width } from './labels';

export type Placed = { panel: Panel; top: number; bottom: number; sy: Scale };
export type Layout = {
  left: number;
  right: number;
  width: number;
  height: number;
  /** Pixel size of small text; grows with the browser's own text size. */
  size: number;
  sx: Scale;
  panels: Placed[];
  /** Baseline of the tick texts under the lowest panel. */
  floor: number;
};

export type EndWord = { key: string; x: number; y: number; rows: string[]; hue: string; strong: boolean };

const title_rows = 1.9;
const gap_rows = 0.9;

/** Widest text that stands to the right of the plots. */
export function right_margin(panels: readonly Panel[], size: number, width: number): number {
  let widest = 0;
  const see = (text: string | undefined) => {
    if (text) widest = Math.max(widest, text_width(text, size));
  };
  for (const panel of panels) {
    for (const line of panel.lines ?? []) {
      see(line.end ?? line.name);
      see(line.end_note);
    }
    for (const limit of panel.limits ?? []) if (limit.across === 'y') see(limit.label);
    see(panel.roof?.label);
  }
  // In steps, so that a number growing by a digit does not move the whole drawing.
  const wanted = Math.ceil((widest * 1.05 + 10) / 8) * 8;
  return Math.min(Math.max(wanted, 12), Math.round(width * 0.36));
}

export function lay_out(x: Axis, panels: readonly Panel[], width: number, size: number): Layout {
  const left = panels.every((panel) => panel.bare) ? size : Math.round(size * 2.9);
  const right = Math.max(left + 40, width - right_margin(panels, size, width));
  const sx = linear(x.low, x.high, left, right);
  let y = 0;
  const placed = panels.map((panel, index) => {
    const top = y + size * (index === 0 ? title_rows : title_rows + gap_rows);
    const tall = panel.true_scale ? Math.max(24, (panel.y.high - panel.y.low) * sx.per_unit) : panel.height;
    const bottom = top + tall;
    y = bottom;
    return { panel, top, bottom, sy: linear(panel.y.low, panel.y.high, bottom, top) };
  });
  const floor = y + size * 1.35;
  return { left, right, width, height: floor + size * 1.6, size, sx, panels: placed, floor };
}

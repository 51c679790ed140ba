// What a chart is made of. Data are in SI; an axis knows how to show them. No physics.
import type { Show } from '../lib/quantity';

/** Fixed meanings of the data hues; see app.css. */
export type Hue = 'a' | 'b' | 'motor' | 'ghost' | 'ink';

export type Tick = { at: number; text: string };

/** Bounds and ticks in SI, texts in the shown unit. */
export type Axis = {
  title: string;
  show: Show;
  low: number;
  high: number;
  ticks: Tick[];
  /** A value in words for the readout: "4:49", "8.1 m". */
  say: (si: number) => string;
};

export type Line = {
  key: string;
  name: string;
  hue: Hue;
  x: readonly number[];
  y: readonly (number | null)[];
  /** Stroke pattern; the held state is always dashed. */
  dash?: 'long' | 'dash' | 'dot' | 'chain';
  weight?: 'thin' | 'usual' | 'strong';
  /** Text at the line's end; the name where left out, nothing where empty. */
  end?: string;
  /** Second, quieter row at the line's end. */
  end_note?: string;
  /** Left out of readout and table: a guide, not data. */
  guide?: boolean;
};

export type Band = {
  key: string;
  name: string;
  hue: Hue;
  x: readonly number[];
  low: readonly number[];
  high: readonly number[];
  /** Draws its edge as well: a shape, not a doubt. */
  edge?: boolean;
  dash?: boolean;
};

export type Mark = {
  key: string;
  x: number;
  y: number;
  hue: Hue;
  shape?: 'round' | 'square' | 'cross';
  /** One standard deviation of y. */
  doubt?: number;
  label?: string;
  warn?: boolean;
};

/** A named bound or instant: horizontal at a y, vertical at an x. */
export type Limit = { key: string; across: 'x' | 'y'; at: number; label: string; hue?: Hue; dash?: boolean; from?: number; to?: number };
/** Named range of x. */
export type Zone = { key: string; low: number; high: number; label: string };
export type Roof = { at: number; label: string };

export type Handle = {
  key: string;
  label: string;
  x: number;
  y: number;
  along: 'x' | 'y';
  now: number;
  low: number;
  high: number;
  /** Value in words, as the field beside it shows it. */
  text: string;
  /** Its value already stands in the drawing. */
  silent?: boolean;
  /** Called at the press; the answer is told how far the hand has moved, in SI along the axis. */
  grab: () => (moved: number) => void;
  step: (count: number) => void;
  settle: () => void;
};

export type Panel = {
  key: string;
  title: string;
  unit: string;
  height: number;
  y: Axis;
  /** Same scale across as along: the height follows from the width. */
  true_scale?: boolean;
  lines?: Line[];
  bands?: Band[];
  marks?: Mark[];
  limits?: Limit[];
  zones?: Zone[];
  roof?: Roof;
  handles?: Handle[];
  /** No y ticks: the drawing is its own scale. */
  bare?: boolean;
};

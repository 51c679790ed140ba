// Where the spars of a batch stand in the chart of their two stiffnesses, as mounted. Layout only.
import type { Spar, SparPair, Spars, SparSanding } from '../../api/types';
import { overlap, places_round, text_width, type Box, type Point } from '../../charts/labels';
import { axis, linear, type Scale } from '../../charts/scale';
import type { Axis } from '../../charts/types';
import { ei_show } from './figures';

export type Dot = {
  id: string;
  /** EI as mounted, N m². */
  up: number;
  side: number;
  sigma_up: number;
  sigma_side: number;
  /** Mounted with its mark to the side: the two directions have changed places. */
  turned: boolean;
  paired: boolean;
  in_hand: boolean;
};
export type Join = { key: string; a: Dot; b: Dot; matched: boolean; in_hand: boolean };
export type Goal = { from: Dot; up: number; side: number };

const across = (turn_deg: number): boolean => {
  const turn = ((turn_deg % 180) + 180) % 180;
  return turn > 45 && turn < 135;
};

function dot_of(spar: Spar, pair: SparPair | null, in_hand: boolean): Dot | null {
  const { ei_0_Nm2: ei_0, ei_90_Nm2: ei_90 } = spar;
  if (ei_0 === null || ei_90 === null) return null;
  const turned = pair ? across(pair.a === spar.id ? pair.turn_a_deg : pair.turn_b_deg) : false;
  const sigma_0 = ei_0 * (spar.sigma_0_relative ?? 0);
  const sigma_90 = ei_90 * (spar.sigma_90_relative ?? 0);
  return {
    id: spar.id, turned, in_hand, paired: pair !== null,
    up: turned ? ei_90 : ei_0, side: turned ? ei_0 : ei_90,
    sigma_up: turned ? sigma_90 : sigma_0, sigma_side: turned ? sigma_0 : sigma_90,
  };
}

export function dots_of(answer: Spars, hand: SparPair | null): Dot[] {
  const pair_of = (id: string) => answer.pairs.find(({ a, b }) => a === id || b === id) ?? null;
  return answer.spars.flatMap((spar) => {
    const pair = pair_of(spar.id);
    return dot_of(spar, pair, pair !== null && pair === hand) ?? [];
  });
}

export function joins_of(answer: Spars, dots: readonly Dot[], hand: SparPair | null): Join[] {
  const by_id = new Map(dots.map((dot) => [dot.id, dot]));
  return answer.pairs.flatMap((pair) => {
    const a = by_id.get(pair.a);
    const b = by_id.get(pair.b);
    return a && b ? [{ key: `${pair.a} ${pair.b}`, a, b, matched: pair.verdict === 'matched', in_hand: pair === hand }] : [];
  });
}

/** Where sanding brings the spar, as it is mounted. */
export function goal_of(sanding: SparSanding | null, dots: readonly Dot[]): Goal | null {
  const from = sanding && dots.find(({ id }) => id === sanding.id);
  if (!sanding || !from) return null;
  const { goal_ei_0_Nm2: ei_0, goal_ei_90_Nm2: ei_90 } = sanding;
  return { from, up: from.turned ? ei_90 : ei_0, side: from.turned ? ei_0 : ei_90 };
}

export type Plot = { x: Axis; y: Axis; sx: Scale; sy: Scale; left: number; right: number; top: number; bottom: number };

/** The same bounds and scale both ways, so that "equal both ways" is the diagonal. */
export function plot_of(dots: readonly Dot[], goal: Goal | null, width: number, size: number): Plot {
  const values = dots.flatMap(({ up, side, sigma_up, sigma_side }) => [up - 2 * sigma_up, up + 2 * sigma_up, side - 2 * sigma_side, side + 2 * sigma_side]);
  if (goal) values.push(goal.up, goal.side);
  const low = Math.min(...values);
  const high = Math.max(...values);
  const room = Math.max((high - low) * 0.02, high * 0.005);
  const both = axis(low - room, high + room, ei_show, { count: 6 });
  const left = Math.round(size * 2.8);
  const right = Math.max(left + 80, width - Math.round(size * 1.2));
  const top = size * 2;
  const bottom = top + (right - left);
  return { x: both, y: both, sx: linear(both.low, both.high, left, right), sy: linear(both.low, both.high, bottom, top), left, right, top, bottom };
}

export type Word = { key: string; text: string; strong: boolean; kind: 'ink' | 'goal' | 'quiet'; box: Box };

type Wanted = Omit<Word, 'box'> & { at: Point; width: number; height: number };

const inside = (box: Box, at: Point): boolean => at.x >= box.x && at.x <= box.x + box.width && at.y >= box.y && at.y <= box.y + box.height;
const gap = (box: Box, at: Point): number => Math.hypot(Math.max(box.x - at.x, 0, at.x - box.x - box.width), Math.max(box.y - at.y, 0, at.y - box.y - box.height));

/** What a name costs in a place: hiding others, lines, the edge, and being read as another's. */
function cost_of(box: Box, word: Wanted, others: readonly Box[], dots: readonly Box[], marks: readonly Point[], lines: readonly Point[], bounds: Box): number {
  let cost = (box.width * box.height - overlap(box, bounds)) * 6;
  for (const other of others) cost += overlap(box, other) * 4;
  for (const dot of dots) cost += overlap(box, dot) * 3;
  for (const at of lines) if (inside(box, at)) cost += 12;
  const own = gap(box, word.at);
  for (const at of marks) if (at !== word.at && gap(box, at) < own - 0.5) cost += 45;
  return cost + own * 2;
}

/** Names beside their dots; set one after the other, then each looked at again among all. */
export function words_of(plot: Plot, dots: readonly Dot[], joins: readonly Join[], goal: Goal | null, size: number): Word[] {
  const at = (up: number, side: number): Point => ({ x: plot.sx.at(up), y: plot.sy.at(side) });
  const named = [...dots]
    .sort((a, b) => Number(b.in_hand) - Number(a.in_hand))
    .map((dot) => ({ key: dot.id, text: dot.turned ? `${dot.id} turned` : dot.id, strong: dot.in_hand, kind: 'ink' as const, at: at(dot.up, dot.side) }));
  const goals = goal ? [{ key: 'goal', text: 'goal', strong: false, kind: 'goal' as const, at: at(goal.up, goal.side) }] : [];
  const wanted: Wanted[] = [...named, ...goals].map((word) => ({ ...word, width: text_width(word.text, size) * (word.strong ? 1.08 : 1) + 2, height: size * 1.1 }));
  const lines = joins.flatMap(({ a, b }) => [0.15, 0.3, 0.45, 0.6, 0.75, 0.9].map((part) => at(a.up + (b.up - a.up) * part, a.side + (b.side - a.side) * part)));
  if (goal) for (const part of [0.2, 0.35, 0.5, 0.65, 0.8]) lines.push(at(goal.from.up + (goal.up - goal.from.up) * part, goal.from.side + (goal.side - goal.from.side) * part));
  const marks = wanted.map((word) => word.at);
  const reach = (word: Wanted) => (word.kind === 'goal' ? 8 : 5);
  const taken: Box[] = wanted.map((word) => ({ x: word.at.x - reach(word), y: word.at.y - reach(word), width: 2 * reach(word), height: 2 * reach(word) }));
  const bounds: Box = { x: plot.left, y: plot.top, width: plot.right - plot.left, height: plot.bottom - plot.top };
  const set = new Map<string, Box>();
  for (let pass = 0; pass < 3; ++pass) {
    for (const word of wanted) {
      const others = [...set].filter(([key]) => key !== word.key).map(([, box]) => box);
      const places = [4, 8, 14, 22].flatMap((away) => places_round({ ...word.at, width: word.width, height: word.height }, away + reach(word) - 5));
      const costs = places.map((box) => cost_of(box, word, others, taken, marks, lines, bounds));
      set.set(word.key, places[costs.indexOf(Math.min(...costs))]!);
    }
  }
  return wanted.map(({ key, text, strong, kind }) => ({ key, text, strong, kind, box: set.get(key)! }));
}

/** From left to right, then upwards: the order in which the arrow keys go. */
export const reading_order = (dots: readonly Dot[]): Dot[] => [...dots].sort((a, b) => a.up - b.up || a.side - b.side);

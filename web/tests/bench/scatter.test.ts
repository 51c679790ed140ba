import { expect, test } from 'vitest';
import type { Spar, SparPair, Spars, SparSanding } from '../../src/api/types';
import { overlap } from '../../src/charts/labels';
import { dots_of, goal_of, joins_of, plot_of, reading_order, words_of } from '../../src/bench/spars/scatter';

/** Invented stiffnesses, N mm²: mark up and at the side. */
const figures: Record<string, [number, number]> = { '1': [263, 279], '4': [241, 262], '6': [333, 318], '7': [272, 251], '9': [247, 266], '10': [318, 350] };

const spar = (id: string): Spar => {
  const [up, side] = figures[id]!;
  return { id, ei_0_Nm2: up * 1e-6, ei_90_Nm2: side * 1e-6, sigma_0_relative: 0.01, sigma_90_relative: 0.02 } as unknown as Spar;
};
const pair = (a: string, b: string, turn_b_deg: number, verdict: SparPair['verdict']): SparPair => ({ a, b, turn_a_deg: 0, turn_b_deg, verdict }) as unknown as SparPair;
const answer = {
  tolerance_relative: 0.05, spars: [...Object.keys(figures).map(spar), { id: '12', ei_0_Nm2: null, ei_90_Nm2: null } as unknown as Spar],
  pairs: [pair('6', '10', 90, 'sand'), pair('1', '7', 90, 'cannot_tell'), pair('4', '9', 0, 'matched')],
} as unknown as Spars;
const dots = dots_of(answer, answer.pairs[0]!);
const by_id = (id: string) => dots.find((dot) => dot.id === id)!;

test('a spar turned a quarter stands with its two stiffnesses exchanged, and its doubts with them', () => {
  expect(by_id('10')).toMatchObject({ up: 350e-6, side: 318e-6, turned: true });
  expect(by_id('10').sigma_up).toBeCloseTo(350e-6 * 0.02, 12);
  expect(by_id('6')).toMatchObject({ side: 318e-6, turned: false, in_hand: true });
});

test('a spar that is not measured is not drawn', () => {
  expect(dots.map(({ id }) => id)).not.toContain('12');
});

test('pairs are joined, solid once they are matched', () => {
  expect(joins_of(answer, dots, answer.pairs[0]!).map(({ key, matched, in_hand }) => [key, matched, in_hand])).toEqual([
    ['6 10', false, true], ['1 7', false, false], ['4 9', true, false],
  ]);
});

test('the goal is turned as its spar is', () => {
  const sanding = { id: '10', goal_ei_0_Nm2: 318e-6, goal_ei_90_Nm2: 335e-6 } as unknown as SparSanding;
  expect(goal_of(sanding, dots)).toMatchObject({ up: 335e-6, side: 318e-6 });
  expect(goal_of(null, dots)).toBeNull();
});

test('both axes have the same bounds and the same scale, and every dot lies inside', () => {
  const plot = plot_of(dots, null, 400, 12);
  expect(plot.x).toBe(plot.y);
  expect(plot.right - plot.left).toBe(plot.bottom - plot.top);
  for (const { up, side } of dots) {
    expect(plot.sx.at(up)).toBeGreaterThanOrEqual(plot.left);
    expect(plot.sy.at(side)).toBeLessThanOrEqual(plot.bottom);
  }
});

test('no name lies on another or on a dot', () => {
  const plot = plot_of(dots, null, 400, 12);
  const words = words_of(plot, dots, joins_of(answer, dots, null), null, 12);
  expect(words).toHaveLength(dots.length);
  for (const a of words) {
    for (const b of words) if (a !== b) expect(overlap(a.box, b.box)).toBe(0);
    for (const { up, side } of dots) expect(overlap(a.box, { x: plot.sx.at(up) - 3, y: plot.sy.at(side) - 3, width: 6, height: 6 })).toBe(0);
  }
});

test('the arrow keys go from left to right', () => {
  expect(reading_order(dots).map(({ id }) => id)).toEqual(['4', '9', '7', '1', '6', '10'].sort((a, b) => by_id(a).up - by_id(b).up));
});

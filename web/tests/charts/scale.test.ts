import { describe, expect, it } from 'vitest';
import { axis, extent, linear, round_step, step_digits, SteadyBounds } from '../../src/charts/scale';
import { show_of } from '../../src/lib/quantity';

describe('linear scale', () => {
  it('maps both ends and comes back', () => {
    const scale = linear(2, 10, 40, 440);
    expect([scale.at(2), scale.at(10)]).toEqual([40, 440]);
    // Two multiplications and two sums: a few ulp of the largest number.
    expect(scale.back(scale.at(7.3))).toBeCloseTo(7.3, 12);
  });
  it('runs upward on a screen whose pixels run downward', () => {
    const scale = linear(0, 8, 200, 0);
    expect(scale.at(8)).toBe(0);
    expect(scale.per_unit).toBe(-25);
  });
  it('answers the low end for a scale without length', () => expect(linear(3, 3, 0, 100).back(50)).toBe(3));
});

describe('round steps', () => {
  it.each([[0.9, 1], [1, 1], [1.1, 2], [2.3, 5], [6, 10], [0.03, 0.05], [240, 500]])('%f becomes %f', (rough, step) =>
    expect(round_step(rough)).toBe(step));
  it('counts the decimals a step needs', () => expect([1, 0.5, 0.02, 250].map(step_digits)).toEqual([0, 1, 2, 0]));
});

describe('axis', () => {
  it('has ticks at round inches, though the data are in metres', () => {
    const { ticks } = axis(0, 0.195, show_of('size', 'inch'), { count: 4 });
    expect(ticks.map((tick) => tick.text)).toEqual(['0', '2', '4', '6', '8']);
    expect(ticks[1]!.at).toBeCloseTo(0.0508, 12);
  });
  it('has ticks at round millimetres for the same data', () => {
    const { ticks } = axis(0, 0.195, show_of('size', 'metric'), { count: 4 });
    expect(ticks.map((tick) => tick.text)).toEqual(['0', '50', '100', '150', '200']);
  });
  it('keeps its bounds where it is told not to round them', () => {
    const { low, high, ticks } = axis(0, 9.2, show_of('height', 'metric'), { round: false });
    expect([low, high]).toEqual([0, 9.2]);
    expect(ticks.at(-1)!.text).toBe('8');
  });
  it('writes all ticks with the same decimals', () => {
    const { ticks } = axis(0.0008, 0.0017, show_of('torque', 'metric'), { count: 4 });
    expect(new Set(ticks.map((tick) => tick.text.split('.')[1]?.length)).size).toBe(1);
  });
  it('opens up around data of one value', () => {
    const { low, high } = axis(0.78, 0.78, show_of('size', 'metric'));
    expect(low).toBeLessThan(0.78);
    expect(high).toBeGreaterThan(0.78);
  });
  it('says values with their unit', () => expect(axis(0, 9, show_of('height', 'inch')).say(2.5908)).toBe('8.5\u00a0ft'));
});

describe('extent', () => {
  it('leaves holes out', () => expect(extent([[null, 3, 1], [2, Number.NaN]])).toEqual([1, 3]));
  it('is null without data', () => expect(extent([[], [null]])).toBeNull());
});

describe('bounds under the hand', () => {
  it('stay while something is dragged, grow only when the data leave, and fit again at rest', () => {
    const bounds = new SteadyBounds();
    expect(bounds.next(0, 10, false, 1)).toEqual([-1, 11]);
    expect(bounds.next(2, 8, true, 1)).toEqual([-1, 11]);
    expect(bounds.next(0, 10.9, true, 1)).toEqual([-1, 11]);
    expect(bounds.next(-2, 9, true, 1)).toEqual([-2, 11]);
    expect(bounds.next(2, 8, false, 1)).toEqual([1, 9]);
  });
});

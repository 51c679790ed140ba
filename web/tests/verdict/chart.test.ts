import { describe, expect, it } from 'vitest';
import { beyond, bounds_of, lay_out, remarks_of, step_of, type FlightMark } from '../../src/verdict/chart';
import { odds_lines } from '../../src/verdict/odds';
import { look_of } from '../../src/verdict/texts';

const mark = (flight: number, value: number | null, more: Partial<FlightMark> = {}): FlightMark =>
  ({ flight, letter: 'A', look: look_of(0), value, sigma: null, hollow: false, ringed: false, crossed: false, word: '', said: '', ...more });
const percent = { unit: '%', factor: 100, digits: 1 };

describe('bounds of the flights', () => {
  const usual = [0.99, 1.01, 1.02, 0.98, 1.0, 1.03].map((value, index) => mark(index + 1, value, { sigma: 0.04 }));
  it('hold the flights with their doubt', () => {
    const [low, high] = bounds_of(usual, [1]);
    expect(low).toBeCloseTo(0.94, 9);
    expect(high).toBeCloseTo(1.07, 9);
  });
  it('are not stretched by one flight far off, nor by one left out', () => {
    expect(bounds_of([...usual, mark(7, 0.4), mark(8, 0.1, { crossed: true })], [1])).toEqual(bounds_of(usual, [1]));
  });
  it('are there without any flight', () => {
    const [low, high] = bounds_of([mark(1, null)], []);
    expect(high).toBeGreaterThan(low);
  });
});

describe('the chart', () => {
  it('lays flights one beside the other, and keeps places for those to fly', () => {
    const chart = lay_out(600, 300, 30, 10, 6, 92, 0.94, 1.07, percent);
    expect(chart.x(1) - chart.x(0)).toBeCloseTo(step_of(600, 10, 6, 92), 9);
    expect(chart.x(15) + chart.step / 2).toBeCloseTo(chart.right, 9);
    expect(chart.sy.at(0.94)).toBeGreaterThan(chart.sy.at(1.07));
  });
  it('tells to which side a value lies beyond it', () => {
    const { y } = lay_out(600, 300, 30, 10, 0, 8, 0.94, 1.07, percent);
    expect([beyond(0.4, y), beyond(1, y), beyond(1.6, y)]).toEqual([-1, 0, 1]);
  });
});

describe('the odds line', () => {
  const two = [{ letter: 'A', name: 'P14', probability_best: 0.88 }, { letter: 'B', name: 'P12', probability_best: 0.12 }];
  it('is one for two propellers, towards the first', () => {
    expect(odds_lines(two, [{ probability_best: [0.5, 0.5] }, { probability_best: [0.62, 0.38] }])).toEqual([{ key: 'P14', letter: 'A', probability: 0.88, at: 0.88, history: [0.5, 0.62] }]);
  });
  it('is one for each of more', () => {
    expect(odds_lines([...two, { letter: 'C', name: 'P9', probability_best: 0 }], [{ probability_best: [0.4, 0.3, 0.3] }]).map(({ letter, history }) => [letter, history])).toEqual([['A', [0.4]], ['B', [0.3]], ['C', [0.3]]]);
  });
});

describe('words at the marks', () => {
  const chart = lay_out(600, 300, 30, 10, 0, 8, 0.94, 1.07, percent);
  const y = () => 100;
  it('stand under the doubt, or beside a cross', () => {
    const [steered, out] = remarks_of([mark(1, 1, { sigma: 0.04, word: 'steered' }), mark(2, null), mark(3, 1, { crossed: true, word: 'aborted' })], chart, 5, y);
    expect(steered?.anchor).toBe('middle');
    expect(steered?.y).toBeCloseTo(chart.sy.at(0.96) + 13, 9);
    expect(out).toMatchObject({ flight: 3, anchor: 'start', y: 104 });
  });
  it('stand over a mark at the foot of the chart', () => {
    const foot = () => chart.bottom - 3;
    expect(remarks_of([mark(1, 0.94, { word: '17' })], chart, 5, foot)[0]?.y).toBeCloseTo(chart.bottom - 13, 9);
  });
  it('do not cover each other: the later one is left to the cursor', () => {
    const crossed = (flight: number) => mark(flight, 1, { crossed: true, word: 'aborted in the climb' });
    // About 100 pixels wide, at marks 55 pixels apart.
    expect(remarks_of([crossed(1), crossed(2), crossed(3), crossed(4), crossed(5), crossed(6)], chart, 5, y).map(({ flight }) => flight)).toEqual([1, 3, 5]);
  });
});

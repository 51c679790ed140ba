import { describe, expect, test } from 'vitest';
import { bars_of } from '../../src/bench/asbuilt/bars';

describe('bars of seconds', () => {
  test('one scale holds all of them with their intervals', () => {
    const { zero, bars } = bars_of([{ seconds: 10, interval_s: [-10, 30] }, { seconds: -2, interval_s: [-4, -1] }]);
    expect(zero).toBeCloseTo(0.25, 12);
    expect(bars[0]).toMatchObject({ from: 0.25, to: 0.5, low: 0, high: 1, gains: true, sure: false, cut_low: false, cut_high: false });
    expect(bars[1]).toMatchObject({ gains: false, sure: true });
    expect(bars[1]!.to).toBeCloseTo(0.25, 12);
  });

  test('an interval far wider than the longest bar is cut, and says so', () => {
    const { zero, bars } = bars_of([{ seconds: 2, interval_s: [1, 3] }, { seconds: 0.1, interval_s: [-40, 40] }]);
    expect(zero).toBeCloseTo(0.5, 12);
    expect(bars[1]).toMatchObject({ low: 0, high: 1, cut_low: true, cut_high: true });
    expect(bars[0]!.to - bars[0]!.from).toBeCloseTo(2 / 12, 12);
  });

  test('what has no seconds has no bar', () => {
    expect(bars_of([{ seconds: null, interval_s: null }]).bars).toEqual([null]);
  });

  test('flaws that cost nothing do not fill the width', () => {
    const { bars, ticks } = bars_of([{ seconds: 0.01, interval_s: [0, 0.02] }]);
    expect(bars[0]!.to - bars[0]!.from).toBeLessThan(0.05);
    expect(new Set(ticks.map((tick) => tick.text)).size).toBe(ticks.length);
  });

  test('ticks are round and hold nothing', () => {
    expect(bars_of([{ seconds: 18.7, interval_s: [-22.8, 40.2] }]).ticks.map((tick) => tick.text)).toEqual(['\u221220', '0', '20', '40']);
  });
});

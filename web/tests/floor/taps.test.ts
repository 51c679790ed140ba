import { describe, expect, it } from 'vitest';
import { tapped, tapped_at_s, taps_until } from '../../src/floor/taps';

/** Evenly spread numbers in 0 to 1, the same in every run (Park and Miller's generator). */
function spread_numbers(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 48271) % 2147483647) / 2147483647;
}

/** Taps of a turning propeller; the finger is early or late by a normal spread. */
function taps(count: number, rev_per_s: number, late_ms: number, seed: number): number[] {
  const next = spread_numbers(seed);
  const normal = () => Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next());
  return Array.from({ length: count }, (_, turn) => 5000 + (1000 * turn) / rev_per_s + late_ms * normal());
}

describe('revolutions from taps', () => {
  it('are the turns over the time of a steady hand', () => {
    const found = tapped(taps(11, 2, 0, 1))!;
    expect(found.rev_per_s).toBeCloseTo(2, 12);
    expect(found.sigma_rev_per_s).toBeCloseTo(0, 9);
    expect(found.turns).toBe(10);
  });

  it('are not told from two taps, and without doubt from four', () => {
    expect(tapped([0, 500])).toBeNull();
    expect(tapped([0, 500, 1000, 1500])!.sigma_rev_per_s).toBeNull();
    expect(tapped([0, 500, 1000, 1500, 2000])!.sigma_rev_per_s).not.toBeNull();
  });

  it('lie within one standard error as often as they should', () => {
    const runs = 600;
    let within = 0, within_two = 0;
    for (let run = 1; run <= runs; ++run) {
      const found = tapped(taps(18, 1.9, 35, 977 * run))!;
      const off = Math.abs(found.rev_per_s - 1.9) / found.sigma_rev_per_s!;
      if (off < 1) ++within;
      if (off < 2) ++within_two;
    }
    // Student's t with 16 degrees of freedom over its own standard deviation: 69.8 and 95.1 % lie within.
    // 600 runs scatter by 1.9 and 0.9 %; three times that is allowed.
    expect(Math.abs(within / runs - 0.698)).toBeLessThan(0.057);
    expect(Math.abs(within_two / runs - 0.951)).toBeLessThan(0.027);
  });

  it('count a missed turn as two, and mark it', () => {
    const all = taps(16, 1.9, 20, 7);
    const whole = tapped(all)!, missed = tapped(all.filter((_, index) => index !== 6))!;
    expect(missed.turns).toBe(15);
    expect(missed.each.map(({ turns }) => turns).filter((turns) => turns === 2)).toHaveLength(1);
    // One tap of sixteen is gone: the slope moves by less than its own standard error.
    expect(Math.abs(missed.rev_per_s - whole.rev_per_s)).toBeLessThan(whole.sigma_rev_per_s!);
  });

  it('drop a tap that bounced', () => {
    const all = taps(12, 1.5, 15, 3);
    const bounced = [...all.slice(0, 5), all[4]! + 20, all[4]! + 180, ...all.slice(5)];
    const found = tapped(bounced)!;
    expect(found.dropped).toBe(2);
    expect(found.rev_per_s).toBeCloseTo(tapped(all)!.rev_per_s, 12);
  });

  it('say how many more taps halve the doubt', () => {
    const found = tapped(taps(18, 1.9, 35, 5))!;
    // The standard error of a slope falls as n^1.5: half of it takes 2^(2/3) times the turns.
    expect(taps_until(found, found.sigma_rev_per_s! / 2)).toBe(Math.ceil(17 * (2 ** (2 / 3) - 1)));
    expect(taps_until(found, 1)).toBe(0);
  });
});

describe('the time of the taps', () => {
  const watch = { started_ms: 100000, stopped_ms: null, top_ms: null };
  it('is the middle of them on the watch', () => {
    expect(tapped_at_s([500, 1500, 2500], watch, 108500)).toBe(10);
    expect(tapped_at_s([500, 1500, 2500], { ...watch, stopped_ms: 111000 }, 108500)).toBe(10);
  });
  it('is not known unless the watch ran', () => {
    expect(tapped_at_s([500, 1500], { ...watch, started_ms: null }, 108500)).toBe(null);
    expect(tapped_at_s([500, 1500], watch, 99000)).toBe(null);
    expect(tapped_at_s([500, 1500], { ...watch, stopped_ms: 109900 }, 108500)).toBe(null);
    expect(tapped_at_s([], watch, 0)).toBe(null);
  });
});

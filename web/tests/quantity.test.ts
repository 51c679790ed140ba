import { describe, expect, it } from 'vitest';
import { difference_text, in_unit, quantity_text, ticks, to_si } from '../src/lib/quantity';

describe('quantities', () => {
  it('show a length in each profile', () => {
    expect(quantity_text(0.381, 'size', 'metric')).toBe('381\u00a0mm');
    expect(quantity_text(0.381, 'size', 'inch')).toBe('15.00\u00a0in');
  });
  it('join the degree sign', () => expect(quantity_text(Math.PI / 4, 'angle', 'metric')).toBe('45.0\u00b0'));
  it('go there and back within rounding', () => {
    for (const quantity of ['size', 'height', 'torque', 'pressure', 'density'] as const) {
      for (const profile of ['metric', 'inch'] as const) {
        const back = to_si(in_unit(1.2345, quantity, profile), quantity, profile);
        expect(Math.abs(back - 1.2345)).toBeLessThan(1e-15 * 4);
      }
    }
  });
  // One ounce-force at one inch: 0.0254 m * 0.028349523125 kg * 9.80665 m/s2, exact by definition;
  // six digits are more than any torque here has.
  it('know the inch-ounce', () => expect(in_unit(0.0254 * 0.028349523125 * 9.80665, 'torque', 'inch')).toBeCloseTo(1, 6));
  it('write differences with a sign', () => expect(difference_text(0.00011, 'torque', 'metric')).toBe('+0.11\u00a0mN·m'));
});

describe('ticks', () => {
  it('are round and inside', () => {
    expect(ticks(0, 13.2, 5)).toEqual([0, 5, 10]);
    expect(ticks(0, 1.7, 4)).toEqual([0, 0.5, 1, 1.5]);
    expect(ticks(598, 805, 5)).toEqual([600, 650, 700, 750, 800]);
  });
  it('carry no rounding dust', () => expect(ticks(0, 0.6, 6)).toEqual([0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6]));
  it('are none for an empty or broken range', () => {
    expect(ticks(1, 1)).toEqual([]);
    expect(ticks(0, NaN)).toEqual([]);
  });
});

import { describe, expect, it } from 'vitest';
import { band_path, hatch_path, line_path, value_at } from '../../src/charts/path';
import { linear } from '../../src/charts/scale';
import { steps_of_key } from '../../src/charts/handle';
import { places_along } from '../../src/charts/table';
import { axis } from '../../src/charts/scale';
import { show_of } from '../../src/lib/quantity';

const same = linear(0, 100, 0, 100);

describe('paths', () => {
  it('join points in order', () => expect(line_path([0, 50, 100], [0, 10, 20], same, same)).toBe('M0 0L50 10L100 20'));
  it('lift the pen over a hole', () => expect(line_path([0, 1, 2, 3], [5, null, 6, 7], same, same)).toBe('M0 5M2 6L3 7'));
  it('close a band', () => expect(band_path([0, 10], [1, 2], [3, 4], same, same)).toBe('M0 3L10 4L10 2L0 1Z'));
  it('hatch only between the ends', () => expect(hatch_path(0, 20, 50, 9, 6)).toBe('M0 50l6 -6M9 50l6 -6'));
});

describe('reading a line', () => {
  it('is linear between points', () => expect(value_at([0, 2, 4], [0, 10, 30], 3)).toBe(20));
  it('meets the ends exactly', () => expect([value_at([0, 2], [1, 5], 0), value_at([0, 2], [1, 5], 2)]).toEqual([1, 5]));
  it('is nothing outside and beside a hole', () => {
    expect(value_at([0, 2], [1, 5], 2.1)).toBeNull();
    expect(value_at([0, 2, 4], [1, null, 5], 3)).toBeNull();
    expect(value_at([], [], 1)).toBeNull();
  });
  it('reads a line given from high to low', () => expect(value_at([4, 2, 0], [30, 10, 0], 1)).toBe(5));
});

describe('keys of a handle', () => {
  it('go up and right by one, down and left by minus one, ten with Shift and the page keys', () => {
    expect(['ArrowUp', 'ArrowRight', 'ArrowDown', 'ArrowLeft'].map((key) => steps_of_key(key, false))).toEqual([1, 1, -1, -1]);
    expect([steps_of_key('ArrowUp', true), steps_of_key('PageDown', false), steps_of_key('a', false)]).toEqual([10, -10, 0]);
  });
});

describe('rows of the table', () => {
  it('stand at round places and end with the data', () => {
    const x = axis(0, 600, show_of('minutes', 'metric'));
    const places = places_along(x, 567.3);
    expect(places[1]).toBeCloseTo(30, 9);
    expect(places.at(-1)).toBe(567.3);
    expect(places.length).toBeLessThan(30);
  });
});

import { expect, it } from 'vitest';
import { belief_entries, read_entry, shown, threshold_entries } from '../../src/verdict/beliefs';

const scatter = belief_entries.find(({ key }) => key === 'scatter_median')!;
const least = threshold_entries.find(({ key }) => key === 'least_flights')!;

it('a belief is read in its own unit, written with or without it', () => {
  expect(read_entry('4', scatter)).toEqual({ value: 0.04 });
  expect(read_entry(' 2,5 % ', scatter)).toEqual({ value: 0.025 });
  expect(read_entry('', scatter)).toEqual({ value: null });
  expect(shown(0.04, scatter)).toBe('4');
});

it('what is no number, out of range or not whole is told with what is allowed', () => {
  expect(read_entry('four', scatter)).toHaveProperty('wrong', expect.stringContaining('0.1 to 50'));
  expect(read_entry('80', scatter)).toHaveProperty('wrong', expect.stringContaining('out of range'));
  expect(read_entry('2.5', least)).toHaveProperty('wrong', expect.stringContaining('whole'));
});

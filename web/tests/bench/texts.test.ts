import { expect, test } from 'vitest';
import { joined, next_name, repeats, sizes_shown, two_sizes, with_unit, without_unit } from '../../src/bench/texts';

test('repeats share the unit that follows them, or the one of the field', () => {
  expect(repeats('352 351 353', 'thou')).toEqual(['352 thou', '351 thou', '353 thou']);
  expect(repeats('352 + 351+353', 'thou')).toEqual(['352 thou', '351 thou', '353 thou']);
  expect(repeats('8.94 8.91 mm', 'thou')).toEqual(['8.94 mm', '8.91 mm']);
  expect(repeats('8.94mm 352 thou', 'mm')).toEqual(['8.94 mm', '352 thou']);
  expect(repeats('  412 ', 'thou')).toEqual(['412 thou']);
  expect(repeats('', 'thou')).toEqual([]);
});

test('fractions of an inch are one reading, also mixed ones', () => {
  expect(repeats('7/16 in', 'thou')).toEqual(['7/16 in']);
  expect(repeats('1 1/16 in', 'thou')).toEqual(['1 1/16 in']);
});

test('what is no reading goes on as written', () => {
  expect(repeats('about half', 'thou')).toEqual(['about half']);
  expect(repeats('3,5', 'mm')).toEqual(['3,5']);
});

test('readings of one unit are kept as one short text, and read back alike', () => {
  expect(joined(['352 thou', '351 thou'])).toBe('352 351 thou');
  expect(joined(['8.94 mm', '352 thou'])).toBe('8.94 mm 352 thou');
  expect(repeats(joined(['352 thou', '351 thou']), 'mm')).toEqual(['352 thou', '351 thou']);
  expect(repeats(joined(['8.94 mm', '352 thou']), 'in')).toEqual(['8.94 mm', '352 thou']);
});

test('one size or two', () => {
  expect(two_sizes('59.5', 'thou')).toEqual({ width: '59.5 thou', depth: '' });
  expect(two_sizes('75 x 80', 'thou')).toEqual({ width: '75 thou', depth: '80 thou' });
  expect(two_sizes('1.9×2.0 mm', 'thou')).toEqual({ width: '1.9 mm', depth: '2.0 mm' });
  expect(two_sizes('', 'thou')).toEqual({ width: '', depth: '' });
  expect(sizes_shown('75 thou', '80 thou', 'thou')).toBe('75 × 80');
  expect(sizes_shown('75 thou', '', 'thou')).toBe('75');
});

test('a bare number means the shown unit', () => {
  expect(with_unit('27.1', 'mg')).toBe('27.1 mg');
  expect(with_unit('1/16', 'in')).toBe('1/16 in');
  expect(with_unit('1.5 mm', 'thou')).toBe('1.5 mm');
  expect(without_unit('59.5 thou', 'thou')).toBe('59.5');
  expect(without_unit('1.5 mm', 'thou')).toBe('1.5 mm');
});

test('the next spar is named by counting on', () => {
  expect(next_name('11')).toBe('12');
  expect(next_name('A09')).toBe('A10');
  expect(next_name('long')).toBe('long 2');
  expect(next_name('')).toBe('1');
});

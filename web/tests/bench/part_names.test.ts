import { expect, it } from 'vitest';
import { present_name } from '../../src/bench/kit/part_names';

it('a part goes by the present name of its propeller, and keeps a name of its own', () => {
  expect(present_name('Propeller 1, blade A', 'P14')).toBe('P14, blade A');
  expect(present_name('Old, wide, new blade B', 'P14')).toBe('P14, new blade B');
  expect(present_name('Propeller 1, hub', 'P14')).toBe('P14, hub');
  expect(present_name('the light one', 'P14')).toBe('the light one');
  expect(present_name('Propeller 1, blade A', ' ')).toBe('Propeller 1, blade A');
});

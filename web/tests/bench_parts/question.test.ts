import { describe, expect, it } from 'vitest';
import type { JobTable } from '../../src/api/types';
import { is_blank } from '../../src/bench/kit/blank';
import { blade_table, cleaned, field_back, filled_rows } from '../../src/bench/kit/question';

describe('what is typed at the bench', () => {
  it('is blank where nothing was written, at any depth', () => {
    expect(is_blank({ a: '', b: [{ c: '' }], d: { e: undefined as never } })).toBe(true);
    expect(is_blank({ a: '', b: [{ c: '1 mm' }] })).toBe(false);
  });

  it('goes without its blanks, counts as numbers', () =>
    expect(cleaned({ mass: '5 g', length: '', count: '4', wraps: 'four', test: { method: '' } })).toEqual({ mass: '5 g', count: 4, wraps: 'four' }));

  it('keeps texts of a list as they are', () => expect(cleaned({ reading_0: ['352 thou', '351 thou'] as never })).toEqual({ reading_0: ['352 thou', '351 thou'] }));
});

describe('a blade', () => {
  const radii = ['75 mm', '125 mm', '150 mm'];
  const section: JobTable = { blade: { length: '178.5 mm', mass: '', notes: 'first of two', angles: [{ angle: '64 deg' }, {}, { radius: '145 mm', angle: '37 deg' }] as JobTable[] as never } };

  it('gives an angle without a radius the usual one, and leaves out what was not read', () =>
    expect(blade_table(section, 'A', radii, 'blades[1]').table).toEqual({
      id: 'A', length: '178.5 mm', angles: [{ radius: '75 mm', angle: '64 deg' }, { radius: '145 mm', angle: '37 deg' }],
    }));

  it('finds the field of a problem though a row before it was not sent', () => {
    const { places } = blade_table(section, 'A', radii, 'blades[1]');
    expect(field_back('blades[1].angles[2].angle', places)).toBe('blades[1].angles[3].angle');
    expect(field_back('blades[1].mass', places)).toBe('blades[1].mass');
    expect(field_back('blades[2].angles[2].angle', places)).toBe('blades[2].angles[2].angle');
  });

  it('tells which rows were written', () =>
    expect(filled_rows([{ part: 'hub' }, { part: 'spar', reading: '40 mg' }], 'reading')).toEqual({ rows: [{ part: 'spar', reading: '40 mg' }], places: [2] }));
});

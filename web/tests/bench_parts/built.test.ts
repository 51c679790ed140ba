import { describe, expect, test } from 'vitest';
import { built_blade, from_bench, mean_camber, on_page } from '../../src/bench/asbuilt/built.svelte';
import type { BladeFigures } from '../../src/api/bench';
import type { Problem } from '../../src/api/types';

const radii = ['80 mm', '125 mm', '155 mm'];
const problem = (field: string): Problem => ({ file: 'as_built', line: null, field, value: '', allowed: '', remedy: '', message: '' });

describe('a blade as the as-built file tells it', () => {
  test('takes what stands under Blades; a radius not written is the usual one', () => {
    const section = { blade: { length: '195 mm', mass: '', notes: 'clear', angles: [{ radius: '82 mm', angle: '57 deg' }, {}, { radius: '', angle: '38 deg' }] } };
    expect(built_blade(section, 'A', radii, null)).toEqual({
      table: { id: 'A', length: '195 mm', angle: [{ radius: '82 mm', angle: '57 deg' }, { radius: '155 mm', angle: '38 deg' }] }, rows: [1, 3],
    });
  });

  test('EI of a bare spar goes by its own name, a share of the design by the other', () => {
    const section = { blade: { as_built: { flapwise_stiffness: '9.1 N mm2', chordwise_stiffness: '95 %', bend_test: { mass: '100 mg', radius: '' } } } };
    expect(built_blade(section, 'B', radii, null).table).toEqual({ id: 'B', spar_flapwise: '9.1 N mm2', chordwise_stiffness: '95 %', bend_test: { mass: '100 mg' } });
  });

  test('EI of the spars as mounted and the twist test stand for what is not written', () => {
    const propeller = {
      spars: { flapwise: { a: '9.100 N mm2', b: '8.700 N mm2' }, chordwise: { a: '20.10 N mm2', b: '19.80 N mm2' } },
      twist: { a: { length: '150 mm', arm: '40 mm', readings: [{ mass: '25 mg', angle: '4.6 deg' }, { mass: '50 mg', angle: '9.5 deg' }, { mass: '75 mg', angle: '' }] }, b: { arm: '40 mm', readings: [{ mass: '50 mg', angle: '9 deg' }] } },
    };
    const test_a = { mass: '50 mg', arm: '40 mm', length: '150 mm', angle: '9.5 deg' };
    expect(from_bench(propeller, 'a')).toEqual({ flapwise_stiffness: '9.100 N mm2', chordwise_stiffness: '20.10 N mm2', twist_test: test_a });
    expect(from_bench(propeller, 'b')).toEqual({ flapwise_stiffness: '8.700 N mm2', chordwise_stiffness: '19.80 N mm2' });
    expect(built_blade({}, 'A', radii, null, from_bench(propeller, 'a')).table).toEqual({ id: 'A', spar_flapwise: '9.100 N mm2', spar_chordwise: '20.10 N mm2', twist_test: test_a });
    const written = { blade: { as_built: { torsion_stiffness: '90 %', bend_test: { mass: '100 mg' } } } };
    expect(built_blade(written, 'A', radii, null, from_bench(propeller, 'a')).table).toEqual({ id: 'A', torsion_stiffness: '90 %', bend_test: { mass: '100 mg' }, spar_chordwise: '20.10 N mm2' });
  });

  test('camber by templates stands where none is written', () => {
    expect(built_blade({}, 'A', radii, 0.0584).table).toEqual({ id: 'A', camber: '5.8 %' });
    expect(built_blade({ blade: { as_built: { camber: '6.2 %' } } }, 'A', radii, 0.0584).table).toEqual({ id: 'A', camber: '6.2 %' });
    expect(mean_camber({ camber: [{ camber: 0.05 }, { camber: 0.07 }] } as unknown as BladeFigures)).toBeCloseTo(0.06, 12);
    expect(mean_camber(null)).toBeNull();
  });
});

test('a problem finds the field of the page', () => {
  const told = on_page([problem('blade[2].angle[2].angle'), problem('blade[1].spar_flapwise'), problem('doubts.mass')], [[1, 2], [1, 3]]);
  expect(told.map(({ field }) => field)).toEqual(['blade[2].angle[3].angle', 'blade[1].flapwise_stiffness', 'doubts.mass']);
});

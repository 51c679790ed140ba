import { describe, expect, it } from 'vitest';
import { usual_radii } from '../../src/bench/blades/radii';
import { spars_question } from '../../src/bench/blades/spar_pairs';
import { survivor_spar } from '../../src/bench/blades/survivor';
import type { BladeShape } from '../../src/api/types';

describe('radii to read a blade at', () => {
  const blade = { radius_m: [0.025, 0.1, 0.19], radius_45_m: 0.1241, gauge_radius_m: 0.1 } as unknown as BladeShape;

  it('are near the root, where it stands at 45 degrees, and outboard, in round numbers', () => {
    expect(usual_radii(blade, 'metric')).toEqual(['75 mm', '125 mm', '150 mm']);
    expect(usual_radii(blade, 'inch')).toEqual(['3.00 in', '5.00 in', '6.00 in']);
  });

  it('are given without a design too', () => expect(usual_radii(null, 'metric')).toHaveLength(3));
});

describe('spars of the workshop', () => {
  const rig = { load: '0.27 g', load_at: '6 in', read_at: '6 in' };
  const spar = {
    id: '11', shape: 'rounded square', length: '7.25 in',
    states: [
      { root_width: '59.5 thou', tip_width: '31 thou', mass: '27.1 mg', reading_0: ['352 thou'], reading_90: ['412 thou'] },
      { off_each_face_0: '0.3 thou', mass: '26.9 mg', reading_0: ['366 thou'], reading_90: ['418 thou'] },
      { off_each_face_0: '0.3 thou' },
    ],
  };

  it('are asked about with the settings of their batch', () =>
    expect(spars_question({ batch: { tolerance: '4 %', notes: 'from sheet 4' } }, rig, [{ spar } as never], 'inch')).toEqual({
      tolerance: '4 %', rig, units: 'inch', spars: [spar],
    }));

  it('are targets of a new blade by their last sizes and their last readings', () =>
    expect(survivor_spar({ spar } as never, { batch: { rig } })).toEqual({
      spar: {
        shape: 'rounded square', length: '7.25 in', root_width: '59.5 thou', tip_width: '31 thou', mass: '26.9 mg',
        reading_0: ['366 thou'], reading_90: ['418 thou'],
      },
      rig,
    }));

  it('have the rig of their batch, its own or the one it is linked to', () => {
    expect(survivor_spar({ spar } as never, {}, { rig }).rig).toEqual(rig);
    expect(survivor_spar({ spar } as never, { batch: { rig } }, { rig: { load: '1 g' } }).rig).toEqual(rig);
    expect(survivor_spar({ spar } as never, {}).rig).toBeUndefined();
  });
});

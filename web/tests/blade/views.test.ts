import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { FieldInfo, Flight, JobTable, Profile } from '../../src/api/types';
import { lay_out } from '../../src/charts/layout';
import { table_of } from '../../src/charts/table';
import type { Axis, Handle, Panel } from '../../src/charts/types';
import { bounds_keeper, type Context, type Other } from '../../src/blade/context';
import { blade_panels, blade_source, radius_axis, stalled_runs } from '../../src/blade/view_blade';
import { motor_panels, turns_axis } from '../../src/blade/view_motor';
import { rotor_axis, rotor_panels } from '../../src/blade/view_rotor';
import { time_axis, time_panels } from '../../src/blade/view_time';
import { angle_sentence, motor_sentence, roof_sentence, warnings_of } from '../../src/blade/words';
import { design } from '../../src/store/design.svelte';
import { fields } from '../../src/store/fields.svelte';

const fixture = JSON.parse(readFileSync(new URL('./lantern46-flight.json', import.meta.url), 'utf8')) as {
  job: JobTable; fields: FieldInfo[]; flight: Flight;
};
const { flight, job } = fixture;

function context(profile: Profile = 'metric', other: Other | null = null): Context {
  return { profile, job, other, spread: null, dragging: false, bounds: bounds_keeper()(false) };
}
function stacks(with_context: Context): [Axis, Panel[]][] {
  const rotor = rotor_axis(flight, with_context);
  return [
    [time_axis(flight, with_context), time_panels(flight, with_context)],
    [radius_axis(flight, with_context), blade_panels(flight, with_context)],
    [rotor, rotor_panels(flight, rotor, with_context)],
    [turns_axis(flight, with_context), motor_panels(flight, with_context)],
  ];
}
function handle(panels: Panel[], key: string): Handle {
  const found = panels.flatMap((panel) => panel.handles ?? []).find((each) => each.key === key);
  if (!found) throw new Error(`no handle ${key}`);
  return found;
}

beforeAll(() => {
  fields.use(fixture.fields);
  design.open({ job }, null);
});

describe("Blade's charts of the example job", () => {
  it.each(['metric', 'inch'] as const)('have finite axes with at least two ticks, and lie inside their drawing (%s)', (profile) => {
    for (const [x, panels] of stacks(context(profile))) {
      expect(x.ticks.length).toBeGreaterThan(1);
      const layout = lay_out(x, panels, 360, 12);
      for (const { panel, top, bottom } of layout.panels) {
        expect(panel.y.high).toBeGreaterThan(panel.y.low);
        expect(panel.bare || panel.y.ticks.length > 1, panel.key).toBe(true);
        expect(bottom).toBeGreaterThan(top);
        expect(bottom).toBeLessThan(layout.height);
      }
    }
  });
  it('draw the held state once in every panel that has lines, dashed', () => {
    const held: Other = { flight, label: 'version 1', hue: 'ghost' };
    for (const [, panels] of stacks(context('metric', held))) {
      for (const panel of panels.filter((each) => each.key !== 'outline')) {
        expect((panel.lines ?? []).filter((line) => line.hue === 'ghost'), panel.key).toHaveLength(1);
      }
    }
  });
  it('draw the blade at true proportion', () => {
    const with_context = context();
    const x = radius_axis(flight, with_context);
    const { sx, panels } = lay_out(x, blade_panels(flight, with_context), 700, 12);
    expect(-panels[0]!.sy.per_unit).toBeCloseTo(sx.per_unit, 9);
  });
  it('are tables too, with a row for every round place and no hole inside the data', () => {
    const [x, panels] = stacks(context())[0]!;
    const { heads, rows } = table_of(x, panels);
    expect(heads.map((head) => head.name)).toEqual(['time', 'Height, now', 'Revs, now', 'Motor torque, now']);
    expect(rows.flat().every((cell) => cell !== '')).toBe(true);
  });
});

describe('handles of the example job', () => {
  it('write what their field shows', () => {
    const panels = blade_panels(flight, context());
    handle(panels, 'propeller.pitch').grab()(0.012);
    expect(design.get('propeller.pitch')).toMatch(/^792(\.0)? mm$/);
    design.undo();
    expect(design.get('propeller.pitch')).toBe('780 mm');
  });
  it('make one step of undo of a whole drag', () => {
    const moved = handle(blade_panels(flight, context()), 'propeller.outline.widest_chord').grab();
    moved(-0.001);
    moved(-0.002);
    moved(-0.003);
    expect(design.get('propeller.outline.widest_chord')).not.toBe('46 mm');
    design.undo();
    expect(design.get('propeller.outline.widest_chord')).toBe('46 mm');
  });
  it('never leave the range of the field', () => {
    handle(blade_panels(flight, context()), 'propeller.pitch').grab()(50);
    expect(design.get('propeller.pitch')).toMatch(/^2500(\.0)? mm$/);
    design.undo();
  });
  it('back turns off in place of the margin, and not past what is wound', () => {
    const [, panels] = stacks(context())[3]!;
    handle(panels, 'launch.turns').grab()(-100.4);
    expect(design.get('launch.turns')).toBe(Math.round(flight.motor.launch - 100.4));
    expect(design.get('launch.margin')).toBeUndefined();
    handle(panels, 'launch.turns').grab()(1e6);
    expect(design.get('launch.turns')).toBe(Math.round(flight.motor.wound));
    design.undo();
    design.undo();
  });
  it('turn the blade on the form it is made on', () => {
    handle(blade_panels(flight, context()), 'turn').step(2);
    // 760 mm turned 0.9 degrees (0.74 rounded to a tenth, and two steps): 760 / tan(44.1 deg) = 784.3 mm.
    expect(design.get('propeller.form_pitch')).toBe('760 mm');
    // The field is written to the whole millimetre at least.
    expect(Math.abs(parseFloat(String(design.get('propeller.pitch'))) - 784.3)).toBeLessThanOrEqual(0.5);
    design.undo();
  });
  it('are not offered for pitch and outline of a blade given by stations', () => {
    const rows = [{ radius: '34 mm', chord: '16 mm', angle: '74 deg' }];
    const propeller = { ...(job.propeller as JobTable), station: rows };
    delete (propeller as Record<string, unknown>).outline;
    const stations = { ...job, propeller } as JobTable;
    expect(blade_source((path) => (path === 'propeller.station' ? rows : undefined))).toBe('stations');
    const keys = blade_panels(flight, { ...context(), job: stations }).flatMap((panel) => panel.handles ?? []).map((each) => each.key);
    expect(keys).toEqual([]);
  });
});

describe('words under the charts', () => {
  const stalled: Flight = {
    ...flight,
    touches: 2,
    phases: flight.phases.map((phase) => (phase.key !== 'launch' ? phase : {
      ...phase, stations: { ...phase.stations, state: phase.stations.state.map((state, index) => (index >= 3 && index <= 5 ? 'stalled' : state)) },
    })),
  };
  it('say that nothing stalls when nothing does', () => {
    expect(angle_sentence(flight, 'metric').warn).toBe(false);
    expect(warnings_of(flight, 'metric', null)).toEqual([]);
  });
  it('name where the blade is stalled, and that the roof is touched', () => {
    expect(stalled_runs(stalled.phases[0]!)).toEqual([
      { from: flight.phases[0]!.stations.radius_m[3], to: flight.phases[0]!.stations.radius_m[5], count: 3 },
    ]);
    const heads = warnings_of(stalled, 'metric', null).map((each) => each.head);
    expect(heads).toEqual(['The roof is touched twice.', 'A part of the blade is stalled.']);
    expect(blade_panels(stalled, context()).find((panel) => panel.key === 'alpha')!.marks!.some((mark) => mark.warn)).toBe(true);
  });
  it('give the room under the roof in the builder’s unit', () => {
    expect(roof_sentence(flight, 'metric', null)).toBe('Tops out 0.5\u00a0m under the roof.');
    expect(roof_sentence(flight, 'inch', null)).toBe('Tops out 1.6\u00a0ft under the roof.');
  });
  it('tell what backing off costs', () => expect(motor_sentence(flight)).toMatch(/^Backed off 213 turns, which gives up 3\.62\u00a0J, 20\u00a0%/));
});

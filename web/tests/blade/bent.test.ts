import { describe, expect, test } from 'vitest';
import type { FlexBlade, FlexState } from '../../src/api/flex';
import type { BladeShape } from '../../src/api/types';
import { across, bent_rows, ring_of } from '../../src/blade/flex/bent';
import { bent_picture } from '../../src/blade/flex/bent_picture';
import { choice_sentence, growth_sentence, state_at, way } from '../../src/blade/flex/figures';

const blade = {
  radius_m: [0.03, 0.1, 0.2], chord_m: [0.02, 0.04, 0.01], lead_m: [0.008, 0.016, 0.004], trail_m: [0.012, 0.024, 0.006],
  angle_deg: [60, 45, 30], camber: [0, 0, 0],
} as unknown as BladeShape;

const station = (radius_m: number, flare_deg: number, out_of_disc_m: number, in_disc_m: number) => ({ radius_m, flare_deg, out_of_disc_m, in_disc_m });
const state = (flare_deg: number, forward_m: number, pitch_m = 0.7): FlexState => ({
  stations: [station(0.03, 0, 0, 0), station(0.2, flare_deg, forward_m, -forward_m)], tip: { flare_deg, out_of_disc_m: forward_m, in_disc_m: -forward_m },
  gauge: { flare_deg, pitch_m, pitch_rise_m: 0 },
}) as unknown as FlexState;

describe('the bent blade', () => {
  test('without loads the chord stands at the blade angle about the spar line', () => {
    const rows = bent_rows(blade, null, 10);
    const tip = rows.at(-1)!;
    expect(tip.spar).toEqual([0.2, 0, 0]);
    expect(tip.points).toHaveLength(across);
    const [lead, trail] = [tip.points[0]!, tip.points.at(-1)!];
    expect(Math.atan2(lead[2] - trail[2], lead[1] - trail[1])).toBeCloseTo(Math.PI / 6, 12);
    expect(Math.hypot(lead[1] - trail[1], lead[2] - trail[2])).toBeCloseTo(0.01, 12);
  });

  test('bend and twist are drawn as many times larger as asked for', () => {
    const once = bent_rows(blade, state(0.5, 0.001), 1).at(-1)!;
    const often = bent_rows(blade, state(0.5, 0.001), 20).at(-1)!;
    expect(once.spar[2]).toBeCloseTo(0.001, 12);
    expect(often.spar[2]).toBeCloseTo(0.02, 12);
    expect(often.spar[1]).toBeCloseTo(-0.02, 12);
    const angle = (row: typeof once) => Math.atan2(row.points[0]![2] - row.points.at(-1)![2], row.points[0]![1] - row.points.at(-1)![1]);
    expect((angle(often) * 180) / Math.PI).toBeCloseTo(40, 9);
  });

  test('between two stations it bends by what lies between', () => {
    const middle = bent_rows(blade, state(1, 0.017), 1)[1]!;
    expect(middle.spar[2]).toBeCloseTo((0.017 * 0.07) / 0.17, 12);
  });

  test('the outline goes out along the leading edge and comes back along the trailing one', () => {
    const ring = ring_of(bent_rows(blade, null, 1));
    expect(ring.map(([x]) => x)).toEqual([0.03, 0.1, 0.2, 0.2, 0.1, 0.03]);
  });

  test('the scale of the drawing stays while the slider moves', () => {
    const rest = bent_rows(blade, null, 0);
    const reach = [state(-0.2, 0), state(2, 0.01)].map((end) => bent_rows(blade, end, 5));
    const frame = { view: { turn: 0.2, tilt: 0.4, distance: 1 }, width: 600, height: 300 };
    const drawn = [0, 1].map((at) => bent_picture(rest, reach[at]!, reach, '', frame));
    expect(drawn[0]!.ghost).toBe(drawn[1]!.ghost);
    expect(drawn[0]!.outline).not.toBe(drawn[1]!.outline);
  });
});

describe('words of the flexing blade', () => {
  const flex = (states: FlexState[], choices: unknown[] = []) => ({ states, choices }) as unknown as FlexBlade;

  test('the slider takes the nearest state', () => {
    const states = [state(0, 0), state(1, 0), state(2, 0)];
    expect(state_at(states, 0.4)).toBe(states[1]);
    expect(state_at(states, 2)).toBe(states[2]);
    expect(state_at([], 0.5)).toBeNull();
  });

  test('pitch that grows, falls or stays is told as such', () => {
    expect(growth_sentence(flex([state(0, 0, 0.7), state(0, 0, 0.71)]), 'metric')).toMatch(/grows by 10\.0\u00a0mm/);
    expect(growth_sentence(flex([state(0, 0, 0.7), state(0, 0, 0.69)]), 'metric')).toMatch(/falls by 10\.0\u00a0mm/);
    expect(growth_sentence(flex([state(0, 0, 0.7), state(0, 0, 0.7)]), 'metric')).toMatch(/the same/);
  });

  test('a bend has a side, not a sign', () => {
    expect(way(-0.0013, 'bend', 'metric', 'forward', 'back')).toBe('1.3\u00a0mm back');
  });

  test('the best choice is named with what it gains; a small gain is none', () => {
    const choice = (present: boolean, spar_position: number, torsion_factor: number, duration_s: number) => ({ present, spar_position, torsion_factor, flight: { duration_s } });
    expect(choice_sentence(flex([], [choice(true, 0.4, 1, 500), choice(false, 0.45, 0.5, 506)]))).toMatch(/45 %.*half as stiff.*6 s more/);
    expect(choice_sentence(flex([], [choice(true, 0.4, 1, 500), choice(false, 0.45, 1, 500.3)]))).toMatch(/None/);
  });
});

// Charts of the flexing blade: along the radius, against torque, and of what could be chosen instead.
import type { FlexBlade, FlexState } from '../../api/flex';
import type { Profile } from '../../api/types';
import { axis, extent } from '../../charts/scale';
import type { Axis, Line, Panel } from '../../charts/types';
import { quantity_text, show_of } from '../../lib/quantity';
import { figure_change, figure_text, shows } from './figures';

/** Bounds with zero among them and some room. */
function about_zero(columns: readonly (readonly (number | null)[])[], least: number): [number, number] {
  const [low, high] = extent([...columns, [0]]) ?? [0, 0];
  const room = Math.max(least, (high - low) * 0.08);
  return [low < 0 ? low - room : 0, high > 0 ? high + room : low < 0 ? 0 : room];
}

export const flex_radius_axis = (flex: FlexBlade, profile: Profile): Axis => axis(0, flex.tip_radius_m, show_of('size', profile), { title: 'radius', round: false });

/** `shown`: the state under the slider; level flight and launch frame it. */
export function radius_panels(flex: FlexBlade, shown: FlexState, profile: Profile): Panel[] {
  const { states } = flex;
  const level = states[0]!;
  const launch = states.at(-1)!;
  type Column = 'flare_deg' | 'out_of_disc_m' | 'stress_Pa';
  const x = (state: FlexState) => state.stations.map((station) => station.radius_m);
  const column = (state: FlexState, name: Column) => state.stations.map((station) => station[name]);
  const lines = (name: Column, end: (state: FlexState) => string): Line[] => [
    { key: 'level', name: 'level flight', hue: 'ghost', dash: 'dot', x: x(level), y: column(level, name), end: 'level' },
    { key: 'launch', name: 'launch', hue: 'ghost', dash: 'dash', x: x(launch), y: column(launch, name), end: shown === launch || shown === level ? '' : 'launch' },
    { key: 'shown', name: 'shown', hue: 'a', x: x(shown), y: column(shown, name), end: end(shown) },
  ];
  const all = (name: Column) => states.map((state) => column(state, name));
  const [f_low, f_high] = about_zero(all('flare_deg'), 0.05);
  const [b_low, b_high] = about_zero(all('out_of_disc_m'), 0.0002);
  const panels: Panel[] = [
    { key: 'flare', title: 'Flare', unit: 'degrees', height: 128, y: axis(f_low, f_high, shows.flare[profile], { title: 'flare' }), lines: lines('flare_deg', (state) => figure_change(state.tip.flare_deg, 'flare', profile)), limits: [{ key: 'zero', across: 'y', at: 0, label: '' }] },
    { key: 'bend', title: 'Bend forward', unit: shows.bend[profile].unit, height: 96, y: axis(b_low, b_high, shows.bend[profile], { title: 'bend' }), lines: lines('out_of_disc_m', (state) => figure_change(state.tip.out_of_disc_m, 'bend', profile)) },
  ];
  if (states.some((state) => state.strength !== null)) {
    const [, s_high] = about_zero([...all('stress_Pa'), states.map((state) => state.strength?.stress_Pa ?? 0)], 1e4);
    const at = shown.strength;
    /** The spar bears most inside the blade's first station: its line begins there. */
    const from_root = (line: Line, state: FlexState): Line => {
      const strength = state.strength;
      return strength && strength.radius_m < (line.x[0] ?? 0) ? { ...line, x: [strength.radius_m, ...line.x], y: [strength.stress_Pa, ...line.y] } : line;
    };
    panels.push({
      key: 'stress', title: 'Stress in the spar', unit: 'MPa', height: 96, y: axis(0, s_high, shows.stress[profile], { title: 'stress' }),
      lines: lines('stress_Pa', () => '').map((line) => from_root(line, line.key === 'level' ? level : line.key === 'launch' ? launch : shown)),
      marks: at ? [{ key: 'root', x: at.radius_m, y: at.stress_Pa, hue: 'a', label: `${figure_text(at.stress_Pa, 'stress', profile)}` }] : [],
    });
  }
  return panels;
}

export function torque_axis(flex: FlexBlade, profile: Profile): Axis {
  const states = flex.states;
  return axis(states[0]!.motor_torque_Nm, states.at(-1)!.motor_torque_Nm, show_of('torque', profile), { title: 'torque of the motor', round: false });
}

export function torque_panels(flex: FlexBlade, shown: FlexState, profile: Profile): Panel[] {
  const x = flex.states.map((state) => state.motor_torque_Nm);
  const rise = flex.states.map((state) => state.gauge.pitch_rise_m);
  const tip = flex.states.map((state) => state.tip.flare_deg);
  const [r_low, r_high] = about_zero([rise], 0.0005);
  const [t_low, t_high] = about_zero([tip], 0.05);
  const at = shown.motor_torque_Nm;
  return [
    {
      key: 'rise', title: 'Pitch gained at 0.7 R', unit: shows.pitch[profile].unit, height: 128, y: axis(r_low, r_high, shows.pitch[profile], { title: 'pitch gained' }),
      lines: [{ key: 'rise', name: 'pitch gained', hue: 'a', x, y: rise, end: figure_change(rise.at(-1)!, 'pitch', profile) }],
      marks: [{ key: 'shown', x: at, y: shown.gauge.pitch_rise_m, hue: 'a' }], limits: [{ key: 'form', across: 'y', at: 0, label: 'as set', dash: true }],
    },
    {
      key: 'tip', title: 'Flare of the tip', unit: 'degrees', height: 96, y: axis(t_low, t_high, shows.flare[profile], { title: 'flare' }),
      lines: [{ key: 'tip', name: 'flare of the tip', hue: 'a', x, y: tip, end: '' }], marks: [{ key: 'shown', x: at, y: shown.tip.flare_deg, hue: 'a' }],
    },
  ];
}

const stiff_words = (factor: number) => (factor === 1 ? 'as stiff' : factor === 0.5 ? 'half as stiff' : `${factor} × as stiff`);
const stiff_look = (factor: number): Pick<Line, 'hue' | 'dash' | 'weight'> => (factor === 1 ? { hue: 'a' } : factor > 1 ? { hue: 'a', dash: 'long', weight: 'thin' } : { hue: 'a', dash: 'dot' });

export const position_axis = (flex: FlexBlade): Axis => {
  const at = flex.choices.map((choice) => choice.spar_position);
  return axis(Math.min(...at), Math.max(...at), shows.share.metric, { title: 'spar behind the leading edge', round: false, count: 4 });
};

export function choice_panels(flex: FlexBlade, profile: Profile): Panel[] {
  const own = flex.choices.find((choice) => choice.present);
  const base = flex.flexing.duration_s;
  const factors = [...new Set(flex.choices.map((choice) => choice.torsion_factor))];
  type Read = (choice: FlexBlade['choices'][number]) => number | null;
  const lines = (read: Read): Line[] => factors.map((factor) => {
    const rows = flex.choices.filter((choice) => choice.torsion_factor === factor);
    return { key: String(factor), name: stiff_words(factor), ...stiff_look(factor), x: rows.map((row) => row.spar_position), y: rows.map(read) };
  });
  const rise: Read = (choice) => choice.launch?.pitch_rise_m ?? null;
  const top: Read = (choice) => choice.flight?.free_top_height_m ?? null;
  const seconds: Read = (choice) => (choice.flight ? choice.flight.duration_s - base : null);
  const marks = (read: Read): Panel['marks'] => {
    const y = own ? read(own) : null;
    return own && y !== null ? [{ key: 'yours', x: own.spar_position, y, hue: 'ink', shape: 'square', label: 'yours' }] : [];
  };
  const [r_low, r_high] = about_zero([flex.choices.map(rise)], 0.001);
  const tops = extent([flex.choices.map(top), [flex.roof_m]]) ?? [0, 1];
  const [s_low, s_high] = about_zero([flex.choices.map(seconds)], 0.5);
  return [
    { key: 'rise', title: 'Pitch gained at launch', unit: `${shows.pitch[profile].unit}, at 0.7 R`, height: 112, y: axis(r_low, r_high, shows.pitch[profile], { title: 'pitch gained' }), lines: lines(rise), marks: marks(rise), limits: [{ key: 'zero', across: 'y', at: 0, label: '' }] },
    { key: 'top', title: 'Climb with the same turns', unit: show_of('height', profile).unit, height: 112, y: axis(tops[0], tops[1] + 0.2, show_of('height', profile), { title: 'top' }), lines: lines(top), marks: marks(top), roof: { at: flex.roof_m, label: `roof ${quantity_text(flex.roof_m, 'height', profile)}` } },
    { key: 'seconds', title: 'Duration against yours', unit: 's, launched anew for the margin', height: 112, y: axis(s_low, s_high, shows.seconds[profile], { title: 'seconds' }), lines: lines(seconds), marks: marks(seconds), limits: [{ key: 'zero', across: 'y', at: 0, label: '' }] },
  ];
}

/** Spar ends from short to full length. */
const ends_of = (flex: FlexBlade) => [...flex.spar_ends].reverse();

export const end_axis = (flex: FlexBlade): Axis => {
  const at = flex.spar_ends.map((end) => end.share);
  return axis(Math.min(...at), Math.max(...at), shows.share.metric, { title: 'spar ends at, of the radius', round: false, count: 4 });
};

export function strike_panels(flex: FlexBlade, profile: Profile): Panel[] {
  const ends = ends_of(flex);
  const own = ends.find((end) => end.present);
  const base = own?.duration_s ?? flex.flexing.duration_s;
  const x = ends.map((end) => end.share);
  const flat = ends.map((end) => end.flapwise.energy_J);
  const edge = ends.map((end) => end.chordwise.energy_J);
  const mass = ends.map((end) => end.propeller_mass_change_kg);
  const light = ends.map((end) => (end.duration_s === null ? null : end.duration_s - base));
  const heavy = ends.map((end) => (end.same_mass_s === null ? null : end.same_mass_s - base));
  const [, e_high] = about_zero([flat, edge], 1e-5);
  const [m_low, m_high] = about_zero([mass], 1e-7);
  const [s_low, s_high] = about_zero([light, heavy], 0.2);
  const yours = (y: number | null | undefined): Panel['marks'] => (own && y !== null && y !== undefined ? [{ key: 'yours', x: own.share, y, hue: 'ink', shape: 'square', label: 'yours' }] : []);
  return [
    {
      key: 'energy', title: 'Tip strike it survives', unit: 'mJ', height: 112, y: axis(0, e_high, shows.energy[profile], { title: 'energy' }),
      lines: [
        { key: 'flat', name: 'flat on the blade', hue: 'a', x, y: flat, end: 'flat' },
        { key: 'edge', name: 'against the edge', hue: 'a', dash: 'dot', x, y: edge, end: 'edgewise' },
      ],
      marks: yours(own?.flapwise.energy_J),
    },
    { key: 'mass', title: 'Mass of the propeller', unit: 'mg against yours', height: 80, y: axis(m_low, m_high, shows.mass[profile], { title: 'mass', count: 3 }), lines: [{ key: 'mass', name: 'mass', hue: 'a', x, y: mass, end: '' }], marks: yours(0) },
    {
      key: 'seconds', title: 'Duration against yours', unit: 's', height: 96, y: axis(s_low, s_high, shows.seconds[profile], { title: 'seconds', count: 3 }),
      lines: [
        { key: 'light', name: 'model lighter', hue: 'a', x, y: light, end: '' },
        { key: 'same', name: 'ballasted', hue: 'ghost', x, y: heavy, end: '' },
      ],
      marks: yours(0),
    },
  ];
}

// Outline, pitch and angle of attack along the blade.
import type { BladeShape, Flight, Phase, PhaseKey } from '../api/types';
import { axis, extent } from '../charts/scale';
import { value_at } from '../charts/path';
import type { Axis, Band, Handle, Line, Mark, Panel } from '../charts/types';
import { quantity_text, show_of } from '../lib/quantity';
import { design } from '../store/design.svelte';
import { other_dash, present_end, short_label, stated, type Context } from './context';
import { pitch_after_turn, roundness_for } from './geometry';
import { field_handle, length_text } from './handles';

export const phase_names: Record<PhaseKey, string> = { launch: 'launch', cruise: 'cruise', let_down: 'let-down' };

export function tip_radius(blade: BladeShape): number {
  return blade.radius_m.at(-1) ?? 0;
}

export function radius_axis(flight: Flight, context: Context): Axis {
  const tip = Math.max(tip_radius(flight.blade), context.other ? tip_radius(context.other.flight.blade) : 0);
  const [low, high] = context.bounds('radius', 0, tip, 0, tip * 0.04);
  return axis(low, high, show_of('size', context.profile), { title: 'radius', count: 4, round: false });
}

function outline_band(blade: BladeShape, key: string, name: string, hue: Band['hue']): Band {
  return {
    key, name, hue, edge: true, x: blade.radius_m, high: blade.lead_m.map(Math.abs), low: blade.trail_m.map((value) => -Math.abs(value)),
  };
}

/** Which way the blade is stated decides which handles there are. */
export type BladeSource = 'outline' | 'stations' | 'measured';
export function blade_source(get: (path: string) => unknown): BladeSource {
  const filled = (path: string) => {
    const rows = get(path);
    return Array.isArray(rows) && rows.length > 0;
  };
  if (filled('propeller.station')) return 'stations';
  return filled('propeller.measured_angle') ? 'measured' : 'outline';
}

function outline_handles(flight: Flight, context: Context): Handle[] {
  const { blade, values } = flight;
  if (typeof stated(context, 'propeller.outline') !== 'object') return [];
  const tip = tip_radius(blade);
  const widest = values['propeller.outline.widest_chord'];
  const at = values['propeller.outline.widest_at'];
  const round = values['propeller.outline.tip_roundness'];
  if (widest === undefined || at === undefined) return [];
  const spar = blade.spar_position;
  const lead = spar * widest;
  const trail = -(1 - spar) * widest;
  const tip_at = tip * (at + (1 - at) * 0.72);
  const tip_chord = value_at(blade.radius_m, blade.chord_m, tip_at) ?? 0;
  return [
    ...field_handle({
      path: 'propeller.outline.widest_chord', label: 'Widest chord', word: 'widest', x: at * tip, y: trail, along: 'y', now: widest,
      value_for: (start, moved) => start - moved / Math.max(0.15, 1 - spar),
    }),
    ...field_handle({
      path: 'propeller.outline.widest_at', label: 'Place of the widest chord, share of the tip radius', word: 'at', x: at * tip, y: lead, along: 'x', now: at,
      value_for: (start, moved) => start + moved / tip,
    }),
    ...(round === undefined || tip_chord <= 0 ? [] : field_handle({
      path: 'propeller.outline.tip_roundness', label: 'Tip roundness', word: 'tip', x: tip_at, y: spar * tip_chord, along: 'y', now: round,
      value_for: (start, moved) => roundness_for(start, tip_chord, widest, tip_chord + moved / Math.max(0.15, spar)),
    })),
  ];
}

function pitch_handles(flight: Flight, context: Context): Handle[] {
  const { blade, values } = flight;
  const pitch = values['propeller.pitch'];
  if (pitch === undefined || blade_source((path) => stated(context, path)) !== 'outline') return [];
  const set = field_handle({
    path: 'propeller.pitch', label: 'Set pitch', word: 'pitch', x: blade.gauge_radius_m, y: pitch, along: 'y', now: pitch,
  });
  const form = blade.form_pitch_m[0] ?? pitch;
  const tip = tip_radius(blade);
  const at_tip = blade.pitch_m.at(-1) ?? pitch;
  const gauge = stated(context, 'propeller.gauge_radius') !== undefined ? blade.gauge_radius_m : null;
  const turned = (turn: number, gesture: string) => {
    const limited = Math.min(20, Math.max(-20, turn));
    // The form stays what it is: where the job left it to follow the set pitch, it is written down now.
    const pin = design.get('propeller.form_pitch') === undefined ? { 'propeller.form_pitch': length_text('propeller.form_pitch', form) } : {};
    design.update({ ...pin, 'propeller.pitch': length_text('propeller.pitch', pitch_after_turn(form, limited, gauge)) }, gesture);
  };
  const turn = blade.turn_deg;
  const words = quantity_text(turn, 'angle_deg', 'metric', 1);
  const per_degree = (pitch_after_turn(form, turn + 0.5, gauge) - pitch_after_turn(form, turn - 0.5, gauge)) || 1;
  return [
    ...set,
    {
      key: 'turn', label: 'Turn of the blade from its form, degrees', x: tip * 0.93, y: at_tip, along: 'y', now: turn, low: -20, high: 20,
      text: `turned ${turn > 0 ? '+' : ''}${words}`,
      grab: () => (moved) => turned(turn + moved / per_degree, 'drag turn'),
      step: (count) => turned(Math.round(turn * 10 + count) / 10, 'step turn'),
      settle: () => design.settle(),
    },
  ];
}

/** Stations past the angle where lift stops rising, as runs of radius. */
export function stalled_runs(phase: Phase): { from: number; to: number; count: number }[] {
  const runs: { from: number; to: number; count: number }[] = [];
  let open: { from: number; to: number; count: number } | null = null;
  phase.stations.state.forEach((state, index) => {
    const radius = phase.stations.radius_m[index] ?? 0;
    if (state === 'stalled') {
      if (open) {
        open.to = radius;
        ++open.count;
      } else runs.push((open = { from: radius, to: radius, count: 1 }));
    } else open = null;
  });
  return runs;
}

function inner<T extends number | null>(radii: readonly number[], values: readonly T[], from: number): T[] {
  return values.filter((_, index) => (radii[index] ?? 0) >= from);
}

export function blade_panels(flight: Flight, context: Context): Panel[] {
  const { profile, other } = context;
  const { blade, phases } = flight;
  const tip = tip_radius(blade);
  const theirs = other?.flight;
  const size = show_of('size', profile);

  const lead = Math.max(...blade.lead_m.map(Math.abs), ...(theirs?.blade.lead_m.map(Math.abs) ?? [0]));
  const trail = Math.max(...blade.trail_m.map(Math.abs), ...(theirs?.blade.trail_m.map(Math.abs) ?? [0]));
  const [o_low, o_high] = context.bounds('outline', -trail, lead, trail * 0.35 + 0.004, lead * 0.35 + 0.004);

  // A turned blade's pitch runs away at the root; the working part sets the scale.
  const pitches = extent([
    inner(blade.radius_m, blade.pitch_m, tip * 0.3), inner(blade.radius_m, blade.form_pitch_m, tip * 0.3),
    ...(theirs ? [inner(theirs.blade.radius_m, theirs.blade.pitch_m, tip * 0.3)] : []),
  ]) ?? [0, 1];
  const room = Math.max((pitches[1] - pitches[0]) * 0.25, pitches[1] * 0.08);
  const [p_low, p_high] = context.bounds('pitch', pitches[0], pitches[1], room);

  const working = phases.map((phase) => inner(phase.stations.radius_m, phase.stations.alpha_deg, tip * 0.22));
  const their_cruise = theirs?.phases.find((phase) => phase.key === 'cruise');
  const alphas = extent([...working, ...(their_cruise ? [inner(their_cruise.stations.radius_m, their_cruise.stations.alpha_deg, tip * 0.22)] : [])]) ?? [0, 8];
  const [a_low, a_high] = context.bounds('alpha', Math.max(-20, Math.min(0, alphas[0])), Math.min(40, alphas[1]), 0, 0.5);

  const pitch_lines: Line[] = [];
  if (theirs && other) {
    pitch_lines.push({ key: 'other', name: other.label, hue: other.hue, dash: other_dash(other), x: theirs.blade.radius_m, y: theirs.blade.pitch_m, end: short_label(other.label) });
  }
  if (blade.form_pitch_m.some((value, index) => Math.abs(value - (blade.pitch_m[index] ?? value)) > 5e-4)) {
    pitch_lines.push({ key: 'form', name: 'form', hue: 'ink', dash: 'chain', weight: 'thin', x: blade.radius_m, y: blade.form_pitch_m, end: 'form' });
  }
  pitch_lines.push({ key: 'now', name: 'as set', hue: 'a', x: blade.radius_m, y: blade.pitch_m, end: other ? 'now' : 'as set' });

  const alpha_lines: Line[] = [];
  if (their_cruise && other) {
    alpha_lines.push({ key: 'other', name: `cruise, ${other.label}`, hue: other.hue, dash: other_dash(other), x: their_cruise.stations.radius_m, y: their_cruise.stations.alpha_deg, end: short_label(other.label) });
  }
  const marks: Mark[] = [];
  for (const phase of phases) {
    const name = phase_names[phase.key];
    alpha_lines.push({
      key: phase.key, name, hue: 'a', x: phase.stations.radius_m, y: phase.stations.alpha_deg, end: name,
      weight: phase.key === 'launch' ? 'strong' : 'usual', ...(phase.key === 'let_down' ? { dash: 'long' as const } : {}),
    });
    let named = false;
    let run = 0;
    phase.stations.state.forEach((state, index) => {
      const alpha = phase.stations.alpha_deg[index] ?? 0;
      run = state === 'stalled' ? run + 1 : 0;
      if (run === 0 || alpha > a_high || alpha < a_low) return;
      // The ends of a stalled stretch and every third station in it: crosses, not a hedge.
      if (run % 3 !== 1 && phase.stations.state[index + 1] === 'stalled') return;
      marks.push({
        key: `${phase.key} ${index}`, x: phase.stations.radius_m[index] ?? 0, y: alpha, hue: 'a', shape: 'cross', warn: true,
        ...(named ? {} : { label: `stalled, ${name}` }),
      });
      named = true;
    });
  }

  return [
    {
      key: 'outline', title: 'Blade', unit: `true outline, ${size.unit}`, height: 100, true_scale: true, bare: true,
      y: axis(o_low, o_high, size, { round: false }),
      bands: [
        ...(theirs && other ? [outline_band(theirs.blade, 'other', other.label, other.hue)] : []),
        outline_band(blade, 'now', present_end(context), 'a'),
      ],
      lines: [
        { key: 'spar', name: 'spar line', hue: 'ink', dash: 'chain', weight: 'thin', guide: true, end: '', x: [0, tip * 1.04], y: [0, 0] },
        
      ],
      handles: outline_handles(flight, context),
    },
    {
      key: 'pitch', title: 'Pitch', unit: size.unit, height: 128,
      y: axis(p_low, p_high, size, { title: 'pitch', count: 4 }),
      lines: pitch_lines,
      marks: blade.radius_45_m === null || value_at(blade.radius_m, blade.pitch_m, blade.radius_45_m) === null ? [] : [
        { key: '45', x: blade.radius_45_m, y: value_at(blade.radius_m, blade.pitch_m, blade.radius_45_m) ?? 0, hue: 'a', label: `45° at ${quantity_text(blade.radius_45_m, 'size', profile)}` },
      ],
      handles: pitch_handles(flight, context),
    },
    {
      key: 'alpha', title: 'Angle of attack', unit: 'degrees', height: 128,
      y: axis(a_low, a_high, show_of('angle_deg', profile), { title: 'angle of attack', count: 4 }),
      lines: alpha_lines,
      marks,
    },
  ];
}

/** The chord as a column of the table: the outline is drawn as a shape, not as a line. */
export function chord_panel(flight: Flight, context: Context): Panel {
  const size = show_of('fine_size', context.profile);
  const { blade } = flight;
  const other = context.other;
  return {
    key: 'chord', title: 'Chord', unit: size.unit, height: 1, y: axis(0, 1, size),
    lines: [
      ...(other ? [{ key: 'other', name: other.label, hue: other.hue, x: other.flight.blade.radius_m, y: other.flight.blade.chord_m }] : []),
      { key: 'now', name: 'now', hue: 'a' as const, x: blade.radius_m, y: blade.chord_m },
    ],
  };
}

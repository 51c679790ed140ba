// The motor meets the propeller: efficiency and torque against revs, the motor's torque laid over.
import type { Flight } from '../api/types';
import { axis, extent } from '../charts/scale';
import { value_at } from '../charts/path';
import type { Axis, Limit, Line, Mark, Panel } from '../charts/types';
import { fixed } from '../lib/format';
import { number_text, quantity_text, show_of } from '../lib/quantity';
import { other_dash, short_label, type Context } from './context';
import { phase_names } from './view_blade';

export function rotor_axis(flight: Flight, context: Context): Axis {
  const { rotor } = flight;
  const data = extent([rotor.rev_per_s, context.other?.flight.rotor.rev_per_s ?? []]) ?? [1, 2];
  const flown_low = Math.min(rotor.flown.low_rev_per_s, rotor.level?.rev_per_s ?? Infinity, context.other?.flight.rotor.flown.low_rev_per_s ?? Infinity);
  const flown_high = Math.max(rotor.flown.high_rev_per_s, rotor.best?.rev_per_s ?? 0, context.other?.flight.rotor.flown.high_rev_per_s ?? 0);
  const [low, high] = context.bounds('rotor revs', Math.max(data[0], flown_low * 0.72), Math.min(data[1], flown_high * 1.2));
  return axis(low, high, show_of('rotation', context.profile), { title: `revs at ${quantity_text(rotor.speed_m_s, 'speed', context.profile, 1)}`, count: 4, round: false });
}

function curve(flight: Flight, context: Context, column: 'efficiency' | 'torque_Nm'): Line[] {
  const { other } = context;
  const list: Line[] = [];
  if (other) {
    list.push({ key: 'other', name: other.label, hue: other.hue, dash: other_dash(other), x: other.flight.rotor.rev_per_s, y: other.flight.rotor[column], end: short_label(other.label, 10) });
  }
  list.push({ key: 'now', name: 'propeller', hue: 'a', x: flight.rotor.rev_per_s, y: flight.rotor[column], end: other ? 'now' : 'propeller' });
  return list;
}

/** Torque needed to turn a curve's part within [low, high]. */
function within(x: readonly number[], y: readonly (number | null)[], low: number, high: number): (number | null)[] {
  return y.filter((_, index) => (x[index] ?? 0) >= low && (x[index] ?? 0) <= high);
}

export function rotor_panels(flight: Flight, x: Axis, context: Context): Panel[] {
  const { profile } = context;
  const { rotor, phases } = flight;
  const { low_rev_per_s: from, high_rev_per_s: to } = rotor.flown;

  const flown = within(rotor.rev_per_s, rotor.efficiency, from * 0.97, to * 1.03).filter((value): value is number => value !== null);
  const best = rotor.best?.efficiency ?? Math.max(0.1, ...flown);
  const [e_low, e_high] = context.bounds('efficiency', Math.max(0, Math.min(...flown, best) - 0.15), best, 0, 0.06);

  const most = Math.max(...phases.map((phase) => phase.motor_torque_Nm), flight.launch_torque_Nm);
  const [t_low, t_high] = context.bounds('rotor torque', 0, most, 0, most * 0.3);

  const limits: Limit[] = [];
  const marks: Mark[] = [];
  for (const phase of phases) {
    limits.push({ key: phase.key, across: 'y', at: phase.motor_torque_Nm, label: `motor, ${phase_names[phase.key]}`, hue: 'motor', to: Math.min(x.high, phase.rev_per_s) });
    marks.push({ key: phase.key, x: phase.rev_per_s, y: phase.motor_torque_Nm, hue: 'motor' });
  }
  const level = rotor.level;
  const level_torque = level ? value_at(rotor.rev_per_s, rotor.torque_Nm, level.rev_per_s) : null;
  if (level && level_torque !== null) marks.push({ key: 'level', x: level.rev_per_s, y: level_torque, hue: 'ink', shape: 'square', label: `level ${number_text(level.rev_per_s, 'rotation', profile)}` });

  return [
    {
      key: 'efficiency', title: 'Efficiency', unit: '', height: 128,
      y: axis(e_low, e_high, show_of('ratio', profile), { title: 'efficiency', count: 4 }),
      lines: curve(flight, context, 'efficiency'),
      zones: [{ key: 'flown', low: from, high: to, label: 'flown' }],
      marks: rotor.best ? [{ key: 'best', x: rotor.best.rev_per_s, y: rotor.best.efficiency, hue: 'a', label: `best ${fixed(rotor.best.efficiency, 2)}` }] : [],
    },
    {
      key: 'torque', title: 'Torque', unit: show_of('torque', profile).unit, height: 176,
      y: axis(t_low, t_high, show_of('torque', profile), { title: 'torque', count: 4, round: false }),
      lines: curve(flight, context, 'torque_Nm'),
      zones: [{ key: 'flown', low: from, high: to, label: '' }],
      limits, marks,
    },
  ];
}

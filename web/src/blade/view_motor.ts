// Torque of the unwinding motor against turns; the launch point backs turns off.
import type { Flight } from '../api/types';
import { axis } from '../charts/scale';
import { value_at } from '../charts/path';
import type { Axis, Handle, Panel } from '../charts/types';
import { fixed } from '../lib/format';
import { show_of } from '../lib/quantity';
import { design } from '../store/design.svelte';
import { other_dash, short_label, type Context } from './context';

export function turns_axis(flight: Flight, context: Context): Axis {
  const most = Math.max(flight.motor.breaking, context.other?.flight.motor.breaking ?? 0);
  const [low, high] = context.bounds('turns', 0, most, 0, most * 0.02);
  return axis(low, high, { ...show_of('turns', context.profile), unit: '' }, { title: 'turns in the motor', count: 4, round: false });
}

function launch_handle(flight: Flight, torque: number): Handle {
  const { motor } = flight;
  const write = (turns: number, gesture: string) =>
    design.update({ 'launch.turns': Math.round(Math.min(motor.wound, Math.max(1, turns))), 'launch.margin': undefined, 'launch.torque': undefined }, gesture);
  return {
    key: 'launch.turns', label: 'Turns at launch', x: motor.launch, y: torque, along: 'x', now: Math.round(motor.launch), low: 1, high: Math.round(motor.wound),
    text: `launch ${fixed(motor.launch, 0)}`,
    grab: () => (moved) => write(motor.launch + moved, 'drag launch'),
    step: (count) => write((count > 0 ? Math.floor(motor.launch / 10 + 1e-6) : Math.ceil(motor.launch / 10 - 1e-6)) * 10 + count * 10, 'step launch'),
    settle: () => design.settle(),
  };
}

export function motor_panels(flight: Flight, context: Context): Panel[] {
  const { motor } = flight;
  const { profile, other } = context;
  const at = (turns: number) => value_at(motor.turns, motor.torque_Nm, turns) ?? 0;
  const left = Math.max(0, motor.left);
  const inside = motor.turns.filter((turns) => turns > left && turns < motor.launch);
  const flown = [left, ...inside, motor.launch];
  // The last steep rise before the break would flatten all that is flown.
  const [low, high] = context.bounds('unwinding', 0, at(motor.launch), 0, at(motor.launch) * 0.45);
  return [
    {
      key: 'motor', title: 'Torque, unwinding', unit: show_of('torque', profile).unit, height: 132,
      y: axis(low, high, show_of('torque', profile), { title: 'torque', count: 3, round: false }),
      bands: [{ key: 'flown', name: 'flown', hue: 'motor', x: flown, low: flown.map(() => 0), high: flown.map(at) }],
      lines: [
        ...(other ? [{ key: 'other', name: other.label, hue: other.hue, dash: other_dash(other), x: other.flight.motor.turns, y: other.flight.motor.torque_Nm, end: short_label(other.label, 10) }] : []),
        { key: 'now', name: 'motor', hue: 'motor', x: motor.turns, y: motor.torque_Nm, end: other ? 'now' : '' },
      ],
      marks: [
        { key: 'left', x: left, y: at(left), hue: 'motor', label: `left ${fixed(left, 0)}` },
      ],
      limits: [
        { key: 'wound', across: 'x', at: motor.wound, label: `wound ${fixed(motor.wound, 0)}`, hue: 'motor' },
        { key: 'breaks', across: 'x', at: motor.breaking, label: `breaks ${fixed(motor.breaking, 0)}`, dash: true },
      ],
      handles: [launch_handle(flight, at(motor.launch))],
    },
  ];
}

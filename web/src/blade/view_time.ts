// Height, revs and torque against time.
import type { Flight } from '../api/types';
import { axis, extent } from '../charts/scale';
import { value_at } from '../charts/path';
import type { Axis, Line, Mark, Panel } from '../charts/types';
import { clock } from '../lib/format';
import { quantity_text, show_of, type Quantity } from '../lib/quantity';
import { field_handle } from './handles';
import { other_dash, present_end, short_label, type Context } from './context';

export function time_axis(flight: Flight, context: Context): Axis {
  const end = Math.max(flight.duration_s, context.other?.flight.duration_s ?? 0);
  const [low, high] = context.bounds('time', 0, end);
  return axis(low, high, show_of('minutes', context.profile), { title: 'time', count: 6, say: clock });
}

function lines(flight: Flight, context: Context, column: 'rev_per_s' | 'torque_Nm' | 'height_m', hue: Line['hue'], end: string, note: string): Line[] {
  const { other } = context;
  const list: Line[] = [];
  if (other) {
    list.push({
      key: 'other', name: other.label, hue: other.hue, dash: other_dash(other), x: other.flight.history.time_s,
      y: other.flight.history[column], end: short_label(other.label), ...(column === 'height_m' ? { end_note: clock(other.flight.duration_s) } : {}),
    });
  }
  list.push({
    key: 'now', name: 'now', hue, x: flight.history.time_s, y: flight.history[column], end: present_end(context, end),
    ...(note ? { end_note: note } : {}),
  });
  return list;
}

export function time_panels(flight: Flight, context: Context): Panel[] {
  const { profile, other, spread } = context;
  const show = (quantity: Quantity) => show_of(quantity, profile);
  const roof = flight.values['hall.roof_height'] ?? flight.top_height_m;
  const highest = Math.max(roof, flight.top_height_m, other?.flight.top_height_m ?? 0);
  const [h_low, h_high] = context.bounds('height', 0, highest, 0, highest * 0.08);
  const end_s = flight.history.time_s.at(-1) ?? 1;

  const revs = extent([flight.history.rev_per_s, other?.flight.history.rev_per_s ?? []]) ?? [0, 1];
  const torques = extent([flight.history.torque_Nm, other?.flight.history.torque_Nm ?? []]) ?? [0, 1];
  const pad = (bounds: [number, number]) => (bounds[1] - bounds[0]) * 0.06;
  // A quantity that is never negative has no axis under nought.
  const under = (bounds: [number, number]) => (bounds[0] >= 0 ? Math.min(pad(bounds), bounds[0]) : pad(bounds));
  const [r_low, r_high] = context.bounds('revs', revs[0], revs[1], under(revs), pad(revs));
  const [t_low, t_high] = context.bounds('motor torque', torques[0], torques[1], under(torques), pad(torques));

  const marks: Mark[] = [
    { key: 'top', x: flight.top_time_s, y: flight.top_height_m, hue: 'a', label: `top ${quantity_text(flight.top_height_m, 'height', profile)} at ${clock(flight.top_time_s)}`, warn: flight.touches > 0 },
  ];
  const launch_torque = value_at(flight.history.time_s, flight.history.torque_Nm, 0) ?? flight.launch_torque_Nm;
  return [
    {
      key: 'height', title: 'Height', unit: show('height').unit, height: 176,
      y: axis(h_low, h_high, show('height'), { title: 'height', round: false, count: 4 }),
      bands: spread ? [{ key: 'doubt', name: 'nine flights in ten', hue: 'a', x: spread.band.time_s, low: spread.band.low_m, high: spread.band.high_m }] : [],
      lines: lines(flight, context, 'height_m', 'a', clock(flight.duration_s), other ? clock(flight.duration_s) : 'lands'),
      roof: { at: roof, label: `roof ${quantity_text(roof, 'height', profile)}` },
      marks,
      handles: field_handle({ path: 'hall.roof_height', label: 'Roof height', word: 'roof', x: end_s * 0.08, y: roof, along: 'y', now: roof }).map((handle) => ({ ...handle, silent: true })),
    },
    {
      key: 'revs', title: 'Revs', unit: show('rotation').unit, height: 104,
      y: axis(r_low, r_high, show('rotation'), { title: 'revs', count: 3 }),
      lines: lines(flight, context, 'rev_per_s', 'a', 'propeller', ''),
    },
    {
      key: 'torque', title: 'Motor torque', unit: show('torque').unit, height: 104,
      y: axis(t_low, t_high, show('torque'), { title: 'torque', count: 3 }),
      lines: lines(flight, context, 'torque_Nm', 'motor', 'motor', `${Math.round(flight.turns_left)} turns left`),
      marks: [{ key: 'launch', x: 0, y: launch_torque, hue: 'motor', label: `launch ${quantity_text(launch_torque, 'torque', profile)}` }],
    },
  ];
}

// What every chart of Blade is built from besides the flight itself.
import type { Flight, JobTable, JobValue, Profile, Spread } from '../api/types';
import { read } from '../lib/jobpath';
import type { Hue } from '../charts/types';
import { SteadyBounds } from '../charts/scale';

/** The state the present one is measured against: held by the hand, or another design. */
export type Other = { flight: Flight; label: string; hue: Extract<Hue, 'ghost' | 'b'> };

export type Context = {
  profile: Profile;
  /** The job that the flight belongs to: not the one on its way to the server. */
  job: JobTable;
  other: Other | null;
  /** The doubt of the present flight, when it has been sampled. */
  spread: Spread | null;
  dragging: boolean;
  /** Bounds of an axis: the data's, with room at both ends. */
  bounds: (name: string, low: number, high: number, room_low?: number, room_high?: number) => [number, number];
};

/** Keeps one pair of bounds for each axis, so that no scale moves while something is dragged. */
export function bounds_keeper(): (dragging: boolean) => Context['bounds'] {
  const kept = new Map<string, SteadyBounds>();
  return (dragging) => (name, low, high, room_low = 0, room_high = room_low) => {
    let steady = kept.get(name);
    if (!steady) kept.set(name, (steady = new SteadyBounds()));
    return steady.next(low, high, dragging, room_low, room_high);
  };
}

/** Name of the present state at a line's end: nothing to tell apart, nothing to say. */
export function present_end(context: Context, alone = ''): string {
  return context.other ? 'now' : alone;
}

export function short_label(label: string, most = 14): string {
  return label.length <= most ? label : `${label.slice(0, most - 1).trimEnd()}…`;
}

export const other_dash = (other: Other) => (other.hue === 'b' ? ('long' as const) : ('dash' as const));

export const stated = (context: Context, path: string): JobValue | undefined => read(context.job, path);

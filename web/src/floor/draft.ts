// The flight in hand: what is carried over from the last one, and the log's row that it makes.
import type { Flag, LoggedFlight } from './flight';
import { broke_reason, flags_of, local_time, tidy } from './flight';
import { at_rest, flown_s, top_s, type Stopwatch } from './stopwatch';

export type Draft = {
  id: string;
  /** The workshop's revision, of a flight that is put right; null for a new one. */
  base: number | null;
  watch: Stopwatch;
  /** As typed, over the stopwatch. */
  duration_s: number | null;
  turns_wound: number | null;
  turns_out: number | null;
  turns_left: number | null;
  /** Of the roof; null: not seen. */
  top_fraction: number | null;
  touches: number;
  steers: number;
  hung_up: boolean;
  aborted: boolean;
  left_out: boolean;
  /** Columns that go through as they are: names, air, torques. */
  carried: Partial<LoggedFlight>;
};

/** What the next flight most often shares with the last. */
const carried_columns = ['session', 'model', 'propeller', 'setting', 'motor', 'batch', 'torque_wound_Nm', 'launch_torque_Nm', 'roof_m',
  'launch_height_m', 'temperature_K', 'pressure_Pa', 'humidity', 'model_mass_kg', 'ballast_kg', 'motor_mass_kg', 'motor_section_m2',
  'motor_length_m', 'spacer_mass_kg', 'motor_part'] as const;

export const blank = (id: string): Draft => ({
  id, base: null, watch: at_rest, duration_s: null, turns_wound: null, turns_out: null, turns_left: null, top_fraction: null,
  touches: 0, steers: 0, hung_up: false, aborted: false, left_out: false, carried: {},
});

/** A new flight after `last`: set up the same. What happened in the air is not carried over, nor are the turns left. */
export function next_after(last: LoggedFlight | null, id: string): Draft {
  if (!last) return blank(id);
  const carried: Record<string, unknown> = {};
  for (const name of carried_columns) if (last[name] !== undefined) carried[name] = last[name];
  if (last.motor && last.wind_number !== undefined) carried.wind_number = last.wind_number + 1;
  const { turns_wound: wound, turns_at_launch: launch } = last;
  return {
    ...blank(id), carried, turns_wound: wound ?? null, turns_out: wound !== undefined && launch !== undefined ? wound - launch : null,
  };
}

/** What is known of a motor that broke: which one, in what air, at which turns. Readings of a flight it has none. */
const of_a_break = ['session', 'model', 'motor', 'batch', 'wind_number', 'temperature_K', 'pressure_Pa', 'humidity', 'motor_mass_kg',
  'motor_section_m2', 'motor_length_m', 'motor_part'] as const;

/** A line of the log without a flight, so that the break is known of that motor and its batch. */
export function break_of(draft: Draft, turns: number | null, id: string, now_ms: number): LoggedFlight {
  const carried: Record<string, unknown> = {};
  for (const name of of_a_break) if (draft.carried[name] !== undefined) carried[name] = draft.carried[name];
  return tidy({ ...carried, id, time: local_time(now_ms), ...(turns === null ? {} : { turns_wound: turns }), flag: 'aborted', reason: broke_reason });
}

const of_one_motor = ['motor', 'wind_number', 'torque_wound_Nm', 'launch_torque_Nm'] as const;

/** The flight goes on with another motor: its name and its winding are asked anew. */
export function after_break(draft: Draft): Draft {
  const carried = { ...draft.carried };
  for (const name of of_one_motor) delete carried[name];
  return { ...draft, carried };
}

/** It did not break after all: what else was entered since stays. */
export function with_motor_of(before: Draft, draft: Draft): Draft {
  const carried: Record<string, unknown> = { ...draft.carried };
  for (const name of of_one_motor) if (carried[name] === undefined && before.carried[name] !== undefined) carried[name] = before.carried[name];
  return { ...draft, carried };
}

/** A kept flight taken back into the hand. */
export function taken_back(flight: LoggedFlight, base: number | null, watch: Stopwatch): Draft {
  const { turns_wound: wound, turns_at_launch: launch } = flight;
  const flags = flags_of(flight);
  const own = ['id', 'turns_wound', 'turns_at_launch', 'turns_left', 'touches', 'steers', 'flag', 'top_height_m'] as const;
  const carried: Partial<LoggedFlight> = { ...flight };
  for (const name of own) delete carried[name];
  const from_roof = flight.top_height_m !== undefined && flight.roof_m !== undefined && flight.roof_m > 0;
  if (!from_roof && flight.top_height_m !== undefined) carried.top_height_m = flight.top_height_m;
  return {
    id: flight.id, base, watch, duration_s: flight.duration_s ?? null,
    turns_wound: wound ?? null, turns_out: wound !== undefined && launch !== undefined ? wound - launch : null,
    turns_left: flight.turns_left ?? null, top_fraction: from_roof ? flight.top_height_m! / flight.roof_m! : null,
    touches: flight.touches ?? 0, steers: flight.steers ?? 0,
    hung_up: flags.includes('hang_up'), aborted: flags.includes('aborted'), left_out: flags.includes('left_out'), carried,
  };
}

const tenth = (seconds: number) => Math.round(seconds * 10) / 10;

/** The time flown: as typed, else as stopped. */
export function duration_of(draft: Draft, now_ms: number): number | null {
  if (draft.duration_s !== null) return draft.duration_s;
  if (draft.watch.stopped_ms === null) return null;
  const seconds = flown_s(draft.watch, now_ms);
  return seconds === null ? null : tenth(seconds);
}

function top_of(draft: Draft): Partial<LoggedFlight> {
  if (draft.top_fraction === null) return {};
  const roof = draft.carried.roof_m;
  if (roof !== undefined) return { top_height_m: Math.round(draft.top_fraction * roof * 100) / 100 };
  const words = `topped out at ${Math.round(100 * draft.top_fraction)} % of the roof`;
  const notes = draft.carried.notes ?? '';
  return notes.includes(words) ? {} : { notes: [notes, words].filter(Boolean).join('; ') };
}

/** The row of the log. Steered flights are flagged by their steers. */
export function row_of(draft: Draft, now_ms: number): LoggedFlight {
  const { turns_wound: wound, turns_out: out } = draft;
  const set: [Flag, boolean][] = [['aborted', draft.aborted], ['steered', draft.steers > 0], ['hang_up', draft.hung_up], ['left_out', draft.left_out]];
  const watched_top = top_s(draft.watch);
  return tidy({
    ...draft.carried,
    ...top_of(draft),
    id: draft.id,
    time: draft.carried.time ?? local_time(draft.watch.started_ms ?? now_ms),
    ...(wound === null ? {} : { turns_wound: wound }),
    ...(wound === null || out === null ? {} : { turns_at_launch: wound - out }),
    ...(draft.turns_left === null ? {} : { turns_left: draft.turns_left }),
    ...(watched_top === null ? {} : { top_time_s: tenth(watched_top) }),
    touches: draft.touches,
    steers: draft.steers,
    flag: set.filter(([, is]) => is).map(([name]) => name).join(';'),
    duration_s: duration_of(draft, now_ms) ?? undefined,
  });
}

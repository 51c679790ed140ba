// The flight in hand: what is carried over from the last one, and the log's row that it makes.
import type { Flag, LoggedFlight } from './flight';
import { broke_reason, day_of, flags_of, is_break, local_time, tidy } from './flight';
import { same_name } from './wind';
import { at_rest, flown_s, top_s, watch_text, type Stopwatch } from './stopwatch';

/** What was typed into a field and not understood, by the field. */
export type Unread = { [field: string]: string };

export type Draft = {
  id: string;
  /** The day a new flight was laid ready for, "2026-11-21": its air and its roof are of that day. */
  day: string;
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
  /** Null: nobody counted. */
  touches: number | null;
  steers: number | null;
  /** Flagged as steered by whoever logged it, without a count. */
  steered?: boolean;
  hung_up: boolean;
  aborted: boolean;
  left_out: boolean;
  /** Columns that go through as they are: names, air, torques. */
  carried: Partial<LoggedFlight>;
  unread: Unread;
  /** A flight put right of which nobody knows when it was: it does not become one of now. */
  undated?: boolean;
  /** A flight put right, as it stood in the log when it was taken into the hand; null for a new one. */
  taken: LoggedFlight | null;
  /** What was entered or changed here; without it a flight laid ready is as the last one left it. */
  touched?: boolean;
  /** Seconds by the page's own count, where the clock of the device says something else for the same flight. */
  counted_s?: number;
  /** Torques nobody read in this flight, as the card or the last flight has them: shown in grey, never logged. */
  hints?: TorqueHints;
};
export type TorqueHints = Partial<Pick<LoggedFlight, 'torque_wound_Nm' | 'launch_torque_Nm'>>;

/** What the next flight most often shares with the last. */
const carried_columns = ['model', 'propeller', 'setting', 'motor', 'batch',
  'launch_height_m', 'model_mass_kg', 'ballast_kg', 'motor_mass_kg', 'motor_section_m2',
  'motor_length_m', 'spacer_mass_kg', 'motor_part'] as const;
/** What it shares with the last of the same day only: another day's air and hall are not guessed to be this one's. */
const day_columns = ['session', 'roof_m', 'temperature_K', 'pressure_Pa', 'humidity'] as const;

export const blank = (id: string): Draft => ({
  id, day: '', base: null, watch: at_rest, duration_s: null, turns_wound: null, turns_out: null, turns_left: null, top_fraction: null,
  touches: 0, steers: 0, hung_up: false, aborted: false, left_out: false, carried: {}, unread: {}, taken: null,
});

/** The flight that the next one is set up after: `flown` last here on `day`, else the latest of the log; a date ahead of the clock is no latest. */
export function last_flown(latest_first: readonly { flight: LoggedFlight }[], flown: { flight: LoggedFlight } | undefined, day: string): LoggedFlight | null {
  if (flown && day_of(flown.flight) === day) return flown.flight;
  return latest_first.find(({ flight }) => !is_break(flight) && day_of(flight) <= day)?.flight ?? null;
}

/** The flight before one of the log; null: none is known. */
export function flown_before(latest_first: readonly { flight: LoggedFlight }[], flight: LoggedFlight): LoggedFlight | null {
  const at = latest_first.findIndex(({ flight: { id } }) => id === flight.id);
  if (at < 0 || flight.time === undefined) return null;
  return latest_first.slice(at + 1).find(({ flight: each }) => !is_break(each) && each.time !== undefined)?.flight ?? null;
}

/** A new flight of `day` after `last`: set up the same. What happened in the air is not carried over, nor are the turns left. */
export function next_after(last: LoggedFlight | null, id: string, day: string): Draft {
  if (!last) return { ...blank(id), day };
  const carried: Record<string, unknown> = {};
  for (const name of day_of(last) === day ? [...carried_columns, ...day_columns] : carried_columns) if (last[name] !== undefined) carried[name] = last[name];
  if (last.motor && last.wind_number !== undefined) carried.wind_number = last.wind_number + 1;
  const { turns_wound: wound, turns_at_launch: launch, torque_wound_Nm, launch_torque_Nm } = last;
  const hints: TorqueHints = { ...(torque_wound_Nm === undefined ? {} : { torque_wound_Nm }), ...(launch_torque_Nm === undefined ? {} : { launch_torque_Nm }) };
  return {
    ...blank(id), day, carried, ...(Object.keys(hints).length > 0 ? { hints } : {}), turns_wound: wound ?? null, turns_out: wound !== undefined && launch !== undefined ? wound - launch : null,
  };
}

/** A flight laid ready on another day becomes one of `day`: it does not have that day's air. */
export function of_day(draft: Draft, day: string): Draft {
  const carried: Record<string, unknown> = { ...draft.carried };
  for (const name of day_columns) delete carried[name];
  return { ...draft, day, carried };
}

/** What is known of a motor that broke: which one, in what air, at which turns. Readings of a flight it has none. */
const of_a_break = ['session', 'model', 'motor', 'batch', 'wind_number', 'temperature_K', 'pressure_Pa', 'humidity', 'motor_mass_kg',
  'motor_section_m2', 'motor_length_m', 'motor_part'] as const;

/** What the winding card says of the motor on the winder. */
export type OfCard = Pick<LoggedFlight, 'batch' | 'motor_section_m2' | 'motor_length_m'>;

/** The motor of the card as one that broke; its size only where the flight in hand says nothing else of it. */
function of_card(card: OfCard, { batch: named, motor_section_m2, motor_length_m, motor_part }: Partial<LoggedFlight>): OfCard {
  const { batch, ...size } = card;
  const other = named !== undefined && !same_name(named, batch ?? '');
  const own = other || motor_section_m2 !== undefined || motor_length_m !== undefined || (motor_part ?? 1) !== 1;
  return { ...(batch ? { batch } : {}), ...(own ? {} : size) };
}

/** A line of the log without a flight, so that the break is known of that motor and its batch. */
export function break_of(draft: Draft, turns: number | null, id: string, now_ms: number, card: OfCard = {}): LoggedFlight {
  const carried: Record<string, unknown> = { ...of_card(card, draft.carried) };
  for (const name of of_a_break) if (draft.carried[name] !== undefined) carried[name] = draft.carried[name];
  return tidy({ ...carried, id, time: local_time(now_ms), ...(turns === null ? {} : { turns_wound: turns }), flag: 'aborted', reason: broke_reason });
}

const of_one_motor = ['motor', 'wind_number', 'torque_wound_Nm', 'launch_torque_Nm', 'motor_mass_kg', 'motor_section_m2', 'motor_length_m',
  'spacer_mass_kg', 'motor_part'] as const;

/** The flight goes on with another motor: its name, its cut and its winding are asked anew. */
export function after_break(draft: Draft): Draft {
  const carried = { ...draft.carried };
  for (const name of of_one_motor) delete carried[name];
  const { hints: _hints, ...rest } = draft;
  return { ...rest, carried };
}

/** It did not break after all: what else was entered since stays. */
export function with_motor_of(before: Draft, draft: Draft): Draft {
  const carried: Record<string, unknown> = { ...draft.carried };
  for (const name of of_one_motor) if (carried[name] === undefined && before.carried[name] !== undefined) carried[name] = before.carried[name];
  return { ...draft, carried };
}

/** What is left of a difference: no digits that come of the reckoning itself. */
const exact = (value: number) => Number(value.toPrecision(12));

/**
 * A kept flight taken back into the hand. What is not entered anew goes back as it stood: a top height in its own metres,
 * turns at launch of which nobody knows how many were wound, a flag without its count.
 */
export function taken_back(flight: LoggedFlight, base: number | null, watch: Stopwatch): Draft {
  const { turns_wound: wound, turns_at_launch: launch, steers } = flight;
  const flags = flags_of(flight);
  const own = ['id', 'turns_wound', 'turns_left', 'touches', 'steers'] as const;
  const carried: Partial<LoggedFlight> = { ...flight };
  for (const name of own) delete carried[name];
  if (wound !== undefined) delete carried.turns_at_launch;
  // Words of another hand, which are no flags here.
  carried.flag = (flight.flag ?? '').split(';').filter((word) => !(flags as readonly string[]).includes(word)).join(';');
  return {
    ...blank(flight.id), base, watch, taken: flight, duration_s: flight.duration_s ?? null,
    turns_wound: wound ?? null, turns_out: wound !== undefined && launch !== undefined ? exact(wound - launch) : null,
    turns_left: flight.turns_left ?? null, touches: flight.touches ?? null, steers: steers ?? null,
    ...(flags.includes('steered') && !steers ? { steered: true } : {}),
    hung_up: flags.includes('hang_up'), aborted: flags.includes('aborted'), left_out: flags.includes('left_out'), carried,
    ...(flight.time === undefined ? { undated: true } : {}),
  };
}

/** The top as a share of the roof: as tapped, else of the height that is known. Null: not seen. */
export function top_share(draft: Draft): number | null {
  const { top_height_m: top, roof_m: roof } = draft.carried;
  return draft.top_fraction ?? (top !== undefined && roof !== undefined && roof > 0 ? top / roof : null);
}

/** The top tapped, or not seen after all. */
export const with_top = (draft: Draft, share: number | null): Partial<Draft> => {
  const { top_height_m: _before, ...carried } = draft.carried;
  return { top_fraction: share, carried };
};

const tenth = (seconds: number) => Math.round(seconds * 10) / 10;

/** The time flown: as typed, else as stopped. Null where what was typed is not understood. */
export function duration_of(draft: Draft, now_ms: number): number | null {
  if (draft.unread.duration_s !== undefined) return null;
  if (draft.duration_s !== null) return draft.duration_s;
  if (draft.watch.stopped_ms === null) return null;
  const seconds = flown_s(draft.watch, now_ms);
  return seconds === null ? null : tenth(seconds);
}

/** The time by the clock and by the page's own count, where they differ and nobody has said which is right. */
export function two_counts(draft: Draft): { clock: string; page: string; clock_s: number; page_s: number } | null {
  const { counted_s: page_s, watch, duration_s, unread } = draft;
  if (page_s === undefined || watch.stopped_ms === null || duration_s !== null || unread.duration_s !== undefined) return null;
  const clock_s = tenth(flown_s(watch, watch.stopped_ms) ?? 0);
  return { clock: watch_text(clock_s).join(''), page: watch_text(page_s).join(''), clock_s, page_s };
}

function top_of(draft: Draft): Partial<LoggedFlight> {
  if (draft.top_fraction === null) return {};
  const roof = draft.unread.roof_m === undefined ? draft.carried.roof_m : undefined;
  if (roof !== undefined) return { top_height_m: Math.round(draft.top_fraction * roof * 100) / 100 };
  const words = `topped out at ${Math.round(100 * draft.top_fraction)} % of the roof`;
  const notes = draft.carried.notes ?? '';
  return notes.includes(words) ? {} : { notes: [notes, words].filter(Boolean).join('; ') };
}

/** The row of the log. Steered flights are flagged by their steers. */
export function row_of(draft: Draft, now_ms: number): LoggedFlight {
  const { turns_wound: wound, turns_out: out } = draft;
  const set: [Flag, boolean][] = [['aborted', draft.aborted], ['steered', (draft.steers ?? 0) > 0 || draft.steered === true], ['hang_up', draft.hung_up], ['left_out', draft.left_out]];
  const watched_top = top_s(draft.watch);
  return without_unread(draft.unread, {
    ...draft.carried,
    ...top_of(draft),
    id: draft.id,
    time: draft.carried.time ?? (draft.undated ? undefined : local_time(draft.watch.started_ms ?? now_ms)),
    ...(wound === null ? {} : { turns_wound: wound }),
    ...(wound === null || out === null ? {} : { turns_at_launch: exact(wound - out) }),
    ...(draft.turns_left === null ? {} : { turns_left: draft.turns_left }),
    ...(watched_top === null ? {} : { top_time_s: tenth(watched_top) }),
    touches: draft.touches ?? undefined,
    steers: draft.steers ?? undefined,
    flag: [...set.filter(([, is]) => is).map(([name]) => name), draft.carried.flag].filter(Boolean).join(';'),
    duration_s: duration_of(draft, now_ms) ?? undefined,
  });
}

/** Columns that a field not understood leaves unknown. Turns at launch stand for all that were wound where they are wanting, so those go too. */
const unknown_with = (field: string): string[] => (field === 'turns_wound' || field === 'turns_out' ? ['turns_wound', 'turns_at_launch'] : [field]);

/** The column a field is told under. */
export const column_of_field = (field: string): string => (field === 'turns_out' ? 'turns_at_launch' : field);

function without_unread(unread: Unread, row: Partial<LoggedFlight>): LoggedFlight {
  const next: Record<string, unknown> = { ...row };
  for (const column of Object.keys(unread).flatMap(unknown_with)) delete next[column];
  return tidy(next as Partial<LoggedFlight>);
}

/** What was typed and not understood, for the notes of the flight, so that nothing is lost. */
export function unread_notes(draft: Draft, words_of: (column: string) => string): string[] {
  return Object.entries(draft.unread).map(([field, text]) => {
    const words = `${field === 'turns_out' ? 'turns backed off' : words_of(field)} noted as "${text}", not understood`;
    if (field === 'turns_out' && draft.turns_wound !== null && draft.unread.turns_wound === undefined) return `${words}; ${draft.turns_wound} turns wound`;
    const watched = field === 'duration_s' && draft.watch.stopped_ms !== null ? flown_s(draft.watch, draft.watch.stopped_ms) : null;
    return watched === null ? words : `${words}; the watch said ${watch_text(watched).join('')}`;
  });
}

/**
 * Turns of the crank typed where those of the motor are asked: `ratio` times as many come near `usual`, those of the card or of
 * the last flight, or where none are known to what such motors take. Null: no doubt.
 */
export function crank_turns(turns: number | null, ratio: number, usual: number | null): number | null {
  if (turns === null || turns <= 0 || ratio < 2) return null;
  const motor = Math.round(turns * ratio);
  const near = (value: number, to: number) => value > to / 1.5 && value < to * 1.5;
  if (usual !== null && usual > 0) return near(motor, usual) && !near(turns, usual) ? motor : null;
  return turns < 300 && motor >= 500 ? motor : null;
}

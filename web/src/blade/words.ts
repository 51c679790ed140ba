// The sentences under the charts and the warnings: what the numbers say, in words.
import type { Flight, Profile, Spread } from '../api/types';
import { count_word, duration, fixed } from '../lib/format';
import { quantity_text } from '../lib/quantity';
import { phase_names, stalled_runs } from './view_blade';

/** "one in five", "one in a hundred"; exact enough for a chance from a thousand samples. */
export function odds(chance: number): string {
  if (chance < 0.005) return 'fewer than one in two hundred';
  if (chance > 0.995) return 'nearly all';
  if (chance >= 0.4) return `${Math.round(chance * 100)} in 100`;
  return `one in ${count_word(Math.round(1 / chance))}`;
}

/** "once", "twice", "three times". */
function times(count: number): string {
  return count === 1 ? 'once' : count === 2 ? 'twice' : `${count_word(count)} times`;
}

export function roof_sentence(flight: Flight, profile: Profile, spread: Spread | null): string {
  const roof = flight.values['hall.roof_height'];
  const room = roof === undefined ? null : roof - flight.top_height_m;
  if (flight.touches > 0) return `Touches the roof ${times(flight.touches)}. Back off more turns.`;
  const under = room === null ? '' : `Tops out ${quantity_text(room, 'height', profile)} under the roof.`;
  if (!spread) return under;
  const chance = spread.touch_probability;
  const word = odds(chance);
  return `${under} ${word.charAt(0).toUpperCase()}${word.slice(1)} such flights would touch it.`;
}

export function angle_sentence(flight: Flight, profile: Profile): { text: string; warn: boolean } {
  const parts: string[] = [];
  for (const phase of flight.phases) {
    const runs = stalled_runs(phase);
    const first = runs[0];
    if (!first) continue;
    const where = runs.map((run) => (run.from === run.to
      ? `at ${quantity_text(run.from, 'size', profile)}`
      : `from ${quantity_text(run.from, 'size', profile)} to ${quantity_text(run.to, 'size', profile)}`)).join(' and ');
    parts.push(`Stalled at ${phase_names[phase.key]}: ${where}.`);
  }
  if (parts.length > 0) return { text: `${parts.join(' ')} Less pitch or more chord there.`, warn: true };
  const launch = flight.phases[0];
  const highest = launch ? Math.max(...launch.stations.alpha_deg) : 0;
  return { text: `No station stalls; the highest angle at launch is ${fixed(highest, 1)}°.`, warn: false };
}

export function rotor_sentence(flight: Flight, profile: Profile): string {
  const { flown, best } = flight.rotor;
  const range = `Flown at ${quantity_text(flown.low_rev_per_s, 'rotation', profile).replace(/\D*$/, '')} to ${quantity_text(flown.high_rev_per_s, 'rotation', profile)}`;
  if (!best) return `${range}.`;
  if (best.rev_per_s > flown.high_rev_per_s * 1.02) return `${range}: slower than where this blade is best.`;
  if (best.rev_per_s < flown.low_rev_per_s * 0.98) return `${range}: faster than where this blade is best.`;
  return `${range}, where this blade is best.`;
}

export function motor_sentence(flight: Flight): string {
  const { motor } = flight;
  const back = motor.wound - motor.launch;
  const given = flight.energy_J.backed_off;
  if (back < 0.5) return 'Launched with all turns in.';
  const cost = given === undefined || motor.energy_J <= 0 ? '' : `, which gives up ${fixed(given, 2)}\u00a0J, ${Math.round((given / motor.energy_J) * 100)}\u00a0% of what the motor holds`;
  return `Backed off ${fixed(back, 0)} turns${cost}.`;
}

export type Warning = { key: string; head: string; text: string };

/** What will hurt the flight, in words, nothing twice. */
export function warnings_of(flight: Flight, profile: Profile, spread: Spread | null): Warning[] {
  const list: Warning[] = [];
  if (flight.touches > 0) {
    list.push({ key: 'touch', head: `The roof is touched ${times(flight.touches)}.`, text: `The climb tops out at ${duration(flight.top_time_s)}. Back off more turns, or leave more margin.` });
  } else if (spread && spread.touch_probability >= 0.1) {
    list.push({ key: 'chance', head: 'The roof is near.', text: `${Math.round(spread.touch_probability * 100)} of 100 such flights would touch it.` });
  }
  const angle = angle_sentence(flight, profile);
  if (angle.warn) list.push({ key: 'stall', head: 'A part of the blade is stalled.', text: angle.text });
  flight.warnings.forEach((text, index) => list.push({ key: `w${index}`, head: '', text }));
  return list;
}

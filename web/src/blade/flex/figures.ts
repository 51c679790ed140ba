// Figures of the flexing blade as they are shown. Conversion and words only.
import type { FlexBlade, FlexState } from '../../api/flex';
import type { Profile } from '../../api/types';
import { duration, fixed, signed } from '../../lib/format';
import type { Show } from '../../lib/quantity';

type Both = Record<Profile, Show>;
const alike = (show: Show): Both => ({ metric: show, inch: show });

export const shows = {
  pitch: { metric: { unit: 'mm', factor: 1000, digits: 1 }, inch: { unit: 'in', factor: 1 / 0.0254, digits: 2 } },
  bend: { metric: { unit: 'mm', factor: 1000, digits: 1 }, inch: { unit: 'thou', factor: 1 / 2.54e-5, digits: 0 } },
  flare: alike({ unit: '°', factor: 1, digits: 2 }),
  stress: alike({ unit: 'MPa', factor: 1e-6, digits: 2 }),
  energy: alike({ unit: 'mJ', factor: 1e3, digits: 2 }),
  mass: alike({ unit: 'mg', factor: 1e6, digits: 1 }),
  seconds: alike({ unit: 's', factor: 1, digits: 1 }),
  share: alike({ unit: '%', factor: 100, digits: 0 }),
} satisfies Record<string, Both>;

export type FlexFigure = keyof typeof shows;

/** "6.9 mm" */
export function figure_text(si: number, figure: FlexFigure, profile: Profile): string {
  const { unit, factor, digits } = shows[figure][profile];
  return unit === '°' ? `${fixed(si * factor, digits)}°` : `${fixed(si * factor, digits)}\u00a0${unit}`;
}

/** "+6.9 mm" */
export function figure_change(si: number, figure: FlexFigure, profile: Profile): string {
  const { unit, factor, digits } = shows[figure][profile];
  return unit === '°' ? `${signed(si * factor, digits)}°` : `${signed(si * factor, digits)}\u00a0${unit}`;
}

export const way = (si: number, figure: FlexFigure, profile: Profile, ahead: string, behind: string): string =>
  `${figure_text(Math.abs(si), figure, profile)} ${si < 0 ? behind : ahead}`;

/** Which of the states stands at this share of the way from level flight to launch. */
export function state_at(states: readonly FlexState[], share: number): FlexState | null {
  return states[Math.round(Math.min(1, Math.max(0, share)) * (states.length - 1))] ?? null;
}

export function growth_sentence(flex: FlexBlade, profile: Profile): string {
  const level = flex.states[0];
  const launch = flex.states.at(-1);
  if (!level || !launch) return 'The blade finds no steady shape between level flight and launch.';
  const grown = launch.gauge.pitch_m - level.gauge.pitch_m;
  const amount = figure_text(Math.abs(grown), 'pitch', profile);
  if (Math.abs(grown) < 0.0005) return 'Pitch at 0.7 of the radius is the same at launch as in level flight.';
  return grown > 0
    ? `From level flight to launch the pitch at 0.7 of the radius grows by ${amount}: the blade takes the torque of launch with fewer revs.`
    : `From level flight to launch the pitch at 0.7 of the radius falls by ${amount}: the blade washes out, turns faster and climbs harder at launch.`;
}

export function flights_sentence(flex: FlexBlade): string {
  const { rigid, flexing } = flex;
  if (!rigid) return 'A rigid blade of this shape does not fly this job.';
  const gained = flexing.duration_s - rigid.duration_s;
  const change = Math.abs(gained) < 0.5 ? 'no odds' : `${fixed(Math.abs(gained), 0)}\u00a0s ${gained > 0 ? 'more' : 'less'}`;
  return `Rigid ${duration(rigid.duration_s)}, as it flexes ${duration(flexing.duration_s)}: ${change}.`;
}

export function strength_sentence(state: FlexState | null, profile: Profile): string {
  const strength = state?.strength;
  if (!strength) return 'Nothing is known of what breaks: the blade has no spar of known wood.';
  const place = profile === 'inch' ? `${fixed(strength.radius_m / 0.0254, 1)} in` : `${fixed(strength.radius_m * 1000, 0)} mm`;
  const times = strength.margin >= 10 ? 'far from breaking in the air' : strength.margin >= 3 ? 'safe in the air' : 'too near to breaking: make it stronger there';
  return `The spar is ${fixed(strength.margin, strength.margin < 10 ? 1 : 0)} times as strong as these loads need, least at ${place}: ${times}.`;
}

export function strike_sentence(flex: FlexBlade, profile: Profile): string {
  const own = flex.spar_ends.find((end) => end.present);
  const whole = flex.spar_ends[0];
  const best = [...flex.spar_ends].sort((a, b) => b.flapwise.energy_J - a.flapwise.energy_J)[0];
  if (!own || !whole || !best) return '';
  const text = (joules: number) => figure_text(joules, 'energy', profile);
  const gained = best.duration_s !== null && own.duration_s !== null ? best.duration_s - own.duration_s : 0;
  if (best === own || best.flapwise.energy_J < own.flapwise.energy_J * 1.02) return `A blow flat on the tip is taken up to ${text(own.flapwise.energy_J)}; no other end of the spar takes noticeably more.`;
  return `Yours takes a flat blow on the tip up to ${text(own.flapwise.energy_J)}; a spar that stops at ${fixed(best.share * 100, 0)} % takes ${text(best.flapwise.energy_J)}, since the soft tip gives way, and ${gained >= 0 ? 'gains' : 'costs'} ${fixed(Math.abs(gained), 1)} s.`;
}

export function choice_sentence(flex: FlexBlade): string {
  const own = flex.choices.find((choice) => choice.present);
  const flown = flex.choices.filter((choice) => choice.flight !== null);
  const best = [...flown].sort((a, b) => b.flight!.duration_s - a.flight!.duration_s)[0];
  if (!own?.flight || !best?.flight) return '';
  const gained = best.flight.duration_s - own.flight.duration_s;
  if (best === own || gained < 0.5) return 'None of these would fly noticeably longer than yours.';
  const stiffness = best.torsion_factor === 1 ? 'as stiff in twist as yours' : best.torsion_factor > 1 ? `${best.torsion_factor} times as stiff in twist` : 'half as stiff in twist';
  return `The longest of these has its spar at ${fixed(best.spar_position * 100, 0)} % of the chord, ${stiffness}: ${fixed(gained, 0)} s more.`;
}

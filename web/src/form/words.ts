// The sentences of the Form place.
import type { FormAnswer, FormKind, FormStation, PatternStrain } from '../api/form';
import type { Profile } from '../api/types';
import { fixed } from '../lib/format';
import { quantity_text } from '../lib/quantity';
import { bench_text, pitch_text } from './lengths';

export const kind_names: Record<FormKind, string> = {
  ribbed: 'Ribbed',
  block: 'Carved block',
  solid: 'Solid',
  cylinder: 'Cylinder',
  templates: 'Paper templates',
};

export const kind_titles: Record<FormKind, { title: string; note: string }> = {
  ribbed: { title: 'Ribbed form', note: 'ribs at their radius' },
  block: { title: 'Carved block', note: 'cut to the top and front templates, then to the stations' },
  solid: { title: 'Solid form', note: 'to print or to mill' },
  cylinder: { title: 'Cylinder', note: 'a tube, can or bottle' },
  templates: { title: 'Paper templates', note: 'one at each station' },
};

/** The station to set both blades at, and how much a degree is there. */
export function setting(answer: FormAnswer): { angle_deg: number; radius_m: number; at_45deg: boolean; per_degree: number | null } {
  const row = answer.stations.find((station) => station.at_45deg);
  if (row) return { angle_deg: row.set_angle_deg, radius_m: row.radius_m, at_45deg: true, per_degree: row.pitch_per_degree };
  // dP/P = 2/sin(2 angle) for a small angle; common practice. For the gauge radius, which may be no station.
  const double = (2 * answer.gauge_angle_deg * Math.PI) / 180;
  const per_degree = Math.sin(double) > 1e-6 ? (2 / Math.sin(double)) * (Math.PI / 180) : null;
  return { angle_deg: answer.gauge_angle_deg, radius_m: answer.gauge_radius_m, at_45deg: false, per_degree };
}

export const share_text = (share: number, digits = 1): string => `${fixed(share * 100, digits)}\u00a0%`;

export function headline_sentence(answer: FormAnswer): string {
  const { at_45deg, per_degree } = setting(answer);
  const costs = per_degree === null ? 'Set both blades there.' : `Set both blades there: a degree wrong is ${share_text(per_degree)} of pitch${at_45deg ? ', the least anywhere on the blade' : ''}.`;
  return at_45deg ? costs : `${costs} No station of this blade stands at 45°.`;
}

export function form_sentence(answer: FormAnswer, profile: Profile): string {
  const turn = answer.turn_deg;
  const turned = Math.abs(turn) < 0.05 ? 'the blades are set as they come off it' : `turn each blade ${fixed(Math.abs(turn), 1)}° ${turn > 0 ? 'up' : 'down'} from it`;
  if (answer.form_pitch_m === null) return `The form follows the pitch along the blade; ${turned}.`;
  return `The form is cut to ${pitch_text(answer.form_pitch_m, profile)}; ${turned}.`;
}

export function strain_sentence(strain: PatternStrain, profile: Profile): { text: string; warn: boolean } {
  const stretch = Math.max(0, strain.worst_stretch);
  const squeeze = Math.abs(strain.worst_squeeze);
  const worst = stretch >= squeeze ? `stretched ${share_text(stretch)}` : `squeezed ${share_text(squeeze)}`;
  const edge = strain.worst_at_m[1] >= 0 ? 'leading' : 'trailing';
  const judged = strain.within_limit
    ? `inside the ${share_text(strain.limit)} that is allowed`
    : `more than the ${share_text(strain.limit)} that is allowed: wet it longer, take thinner sheet, or slit the blank`;
  return {
    text: `Worst ${worst} at ${bench_text(strain.worst_radius_m, profile)}, on the ${edge} side of the spar line: ${judged}.`,
    warn: !strain.within_limit,
  };
}

export function plain_sentence(strain: PatternStrain, profile: Profile): string {
  const off = Math.abs(strain.plain_difference_m);
  return off < 0.00005 ? 'The plain arc-length pattern is the same.' : `Dashed: the plain arc-length pattern, up to ${quantity_text(off, 'fine_size', profile, profile === 'inch' ? 3 : 1)} off.`;
}

export const hand_words = (answer: FormAnswer): string => `${answer.hand}, seen from behind`;

/** What a station says of itself, for the picture's description. */
export const station_words = (station: FormStation, profile: Profile): string =>
  `${bench_text(station.radius_m, profile)}: ${fixed(station.angle_deg, 1)}° on the form`;

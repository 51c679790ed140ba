// Radii at which blades are read when nobody says otherwise: near the root, where the blade stands near 45
// degrees, and outboard; round in the shown unit.
import type { BladeShape, Profile } from '../../api/types';

const shares = [0.4, 0.8];

/** As texts with unit, inner first, apart enough that each tells something of its own. */
export function usual_radii(blade: BladeShape | null, profile: Profile): string[] {
  const tip_m = blade?.radius_m.at(-1) ?? 0.18;
  const middle_m = blade?.radius_45_m ?? blade?.gauge_radius_m ?? 0.6 * tip_m;
  const wanted = [shares[0]! * tip_m, middle_m, shares[1]! * tip_m].sort((a, b) => a - b);
  const apart = wanted.filter((radius, index) => index === 0 || radius - wanted[index - 1]! > 0.08 * tip_m);
  return apart.map((radius) => (profile === 'inch' ? `${(Math.round((radius / 0.0254) * 4) / 4).toFixed(2)} in` : `${(Math.round(radius * 200) * 5).toFixed(0)} mm`));
}

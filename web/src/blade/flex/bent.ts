// The blade as its loads bend and twist it, for drawing only: what the program says of each station, drawn
// larger by a factor. x along the radius, y in the disc the way it turns, z forward, where thrust points.
import type { Point3 } from '../../api/form';
import type { FlexState } from '../../api/flex';
import type { BladeShape } from '../../api/types';

/** Points across the chord, leading edge first. */
export const across = 9;

export type BentRow = { radius_m: number; points: Point3[]; spar: Point3 };

/** What a state adds at a radius; nothing inside its first station's place at the shaft. */
type Added = { flare_rad: number; forward_m: number; ahead_m: number };

function added_at(state: FlexState | null, radius_m: number): Added {
  const stations = state?.stations ?? [];
  if (stations.length === 0) return { flare_rad: 0, forward_m: 0, ahead_m: 0 };
  const above = stations.findIndex((station) => station.radius_m >= radius_m);
  // Past the last station the blade goes on as straight as between the last two.
  const high = Math.max(1, above < 0 ? stations.length - 1 : above);
  const a = stations[high - 1] ?? stations[0]!;
  const b = stations[high] ?? a;
  const t = b.radius_m > a.radius_m ? Math.max(0, (radius_m - a.radius_m) / (b.radius_m - a.radius_m)) : 0;
  const mix = (from: number, to: number) => from + t * (to - from);
  return {
    flare_rad: (mix(a.flare_deg, b.flare_deg) * Math.PI) / 180,
    forward_m: mix(a.out_of_disc_m, b.out_of_disc_m),
    ahead_m: mix(a.in_disc_m, b.in_disc_m),
  };
}

/** Rows across the blade; a null state is the blade without loads. */
export function bent_rows(blade: BladeShape, state: FlexState | null, times: number): BentRow[] {
  return blade.radius_m.map((radius_m, row) => {
    const lead = Math.abs(blade.lead_m[row] ?? 0);
    const chord = blade.chord_m[row] ?? 0;
    const added = added_at(state, radius_m);
    const angle = ((blade.angle_deg[row] ?? 0) * Math.PI) / 180 + times * added.flare_rad;
    const arch = (blade.camber[row] ?? 0) * chord;
    const spar: Point3 = [radius_m, times * added.ahead_m, times * added.forward_m];
    const points = Array.from({ length: across }, (_, place): Point3 => {
      const share = place / (across - 1);
      const along = lead - share * chord;
      const up = 4 * arch * share * (1 - share);
      return [radius_m, spar[1] + along * Math.cos(angle) - up * Math.sin(angle), spar[2] + along * Math.sin(angle) + up * Math.cos(angle)];
    });
    return { radius_m, points, spar };
  });
}

/** Once round the blade: out along the leading edge, back along the trailing one. */
export function ring_of(rows: readonly BentRow[]): Point3[] {
  return [...rows.map((row) => row.points[0]!), ...[...rows].reverse().map((row) => row.points.at(-1)!)];
}

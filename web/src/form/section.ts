// A section of the form at any radius, from the rows of its surface. Interpolation for drawing only.
import type { CylinderFit, FormStation, Point2, Point3, SurfaceRow } from '../api/form';

export type Section = { radius_m: number; angle_deg: number; points_m: Point3[] };

type CylinderStation = CylinderFit['stations'][number];

const mix = (a: number, b: number, share: number) => a + (b - a) * share;

/** The two neighbours of a radius in rising rows, and the share between them; ends are kept. */
function between<T extends { radius_m: number }>(rows: readonly T[], radius_m: number): { a: T; b: T; share: number } | null {
  const first = rows[0];
  const last = rows.at(-1);
  if (!first || !last) return null;
  if (radius_m <= first.radius_m) return { a: first, b: first, share: 0 };
  if (radius_m >= last.radius_m) return { a: last, b: last, share: 0 };
  let low = 0;
  let high = rows.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (rows[middle]!.radius_m <= radius_m) low = middle;
    else high = middle;
  }
  const a = rows[low]!;
  const b = rows[high]!;
  return { a, b, share: (radius_m - a.radius_m) / (b.radius_m - a.radius_m) };
}

/** Null where there are no rows. */
export function section_at(rows: readonly SurfaceRow[], radius_m: number): Section | null {
  const found = between(rows, radius_m);
  if (!found) return null;
  const { a, b, share } = found;
  const points_m = a.points_m.map((point, index): Point3 => {
    const other = b.points_m[index] ?? point;
    return [mix(point[0], other[0], share), mix(point[1], other[1], share), mix(point[2], other[2], share)];
  });
  return { radius_m: mix(a.radius_m, b.radius_m, share), angle_deg: mix(a.angle_deg, b.angle_deg, share), points_m };
}

/** The station numbers at a radius, linear between the stations; null where there are none. */
export function station_at(stations: readonly FormStation[], radius_m: number): Omit<FormStation, 'at_45deg'> | null {
  const found = between(stations, radius_m);
  if (!found) return null;
  const { a, b, share } = found;
  const value = (name: keyof Omit<FormStation, 'at_45deg'>) => mix(a[name], b[name], share);
  return {
    radius_m: value('radius_m'), chord_m: value('chord_m'), angle_deg: value('angle_deg'), pitch_m: value('pitch_m'),
    set_angle_deg: value('set_angle_deg'), set_pitch_m: value('set_pitch_m'), pitch_per_degree: value('pitch_per_degree'),
    block_width_m: value('block_width_m'), block_height_m: value('block_height_m'), camber: value('camber'),
    camber_height_m: value('camber_height_m'), sheet_width_m: value('sheet_width_m'),
  };
}

/** What a cylinder gives at a radius, linear between its stations; null where there are none. */
export function cylinder_at(stations: readonly CylinderStation[], radius_m: number): CylinderStation | null {
  const found = between(stations, radius_m);
  if (!found) return null;
  const { a, b, share } = found;
  const value = (name: keyof CylinderStation) => mix(a[name], b[name], share);
  return { radius_m: value('radius_m'), angle_deg: value('angle_deg'), angle_error_deg: value('angle_error_deg'), pitch_m: value('pitch_m'), camber: value('camber') };
}

/** The section as seen along the spar line: across the disc to the right, the way of flight up. */
export function seen_from_tip(section: Section): Point2[] {
  return section.points_m.map(([, y, z]): Point2 => [y, z]);
}

/** First and last radius of a surface; null where it has no extent. */
export function reach_of(rows: readonly { radius_m: number }[]): { low: number; high: number } | null {
  const low = rows[0]?.radius_m;
  const high = rows.at(-1)?.radius_m;
  return low !== undefined && high !== undefined && high > low ? { low, high } : null;
}

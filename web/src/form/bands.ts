// Strain over a flat pattern as bands between round values, each one path. Drawing only.
import type { PatternMap, Point2 } from '../api/form';
import { round_step, step_digits } from '../charts/scale';

/** Strain from low to high, shares; the darkness goes with its size, 0 to 1. */
export type Band = { key: string; low: number; high: number; squeezed: boolean; dark: number; path: string };
export type Bands = { list: Band[]; step: number; digits: number };

/** The strain at each point: of the triangles round it, the larger ones counting for more. */
export function strain_at_points(map: PatternMap): number[] {
  const sum = new Array<number>(map.points_m.length).fill(0);
  const weight = new Array<number>(map.points_m.length).fill(0);
  map.triangles.forEach((corners, index) => {
    const [a, b, c] = corners.map((corner) => map.points_m[corner]);
    const strain = map.strain[index];
    if (!a || !b || !c || strain === undefined) return;
    const area = Math.abs((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]));
    for (const corner of corners) {
      sum[corner] = (sum[corner] ?? 0) + strain * area;
      weight[corner] = (weight[corner] ?? 0) + area;
    }
  });
  return sum.map((total, index) => (weight[index]! > 0 ? total / weight[index]! : 0));
}

type Corner = { at: Point2; strain: number };

/** The part of a polygon whose strain is on one side of a level. */
function clipped(polygon: readonly Corner[], level: number, side: 1 | -1): Corner[] {
  const kept: Corner[] = [];
  for (let i = 0; i < polygon.length; ++i) {
    const a = polygon[i]!;
    const b = polygon[(i + 1) % polygon.length]!;
    const da = side * (a.strain - level);
    const db = side * (b.strain - level);
    if (da >= 0) kept.push(a);
    if ((da > 0 && db < 0) || (da < 0 && db > 0)) {
      const t = da / (da - db);
      kept.push({ at: [a.at[0] + t * (b.at[0] - a.at[0]), a.at[1] + t * (b.at[1] - a.at[1])], strain: level });
    }
  }
  return kept;
}

/** Levels at round shares, none beyond what occurs: at most eight steps on the larger side. */
export function levels_of(strain: readonly number[], count = 8): { step: number; low: number; high: number } {
  let low = 0;
  let high = 0;
  for (const value of strain) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  // Less than a hundredth of a per cent is no strain worth a step.
  const step = round_step(Math.max(Math.max(high, -low) / count, 1e-4));
  return { step, low: -Math.ceil(-low / step - 1e-6), high: Math.ceil(high / step - 1e-6) };
}

/** `place` turns a point of the pattern into "x y" of the drawing. */
export function strain_bands(map: PatternMap, place: (point: Point2) => string): Bands {
  const strain = strain_at_points(map);
  const { step, low, high } = levels_of(strain);
  const most = Math.max(high, -low, 1);
  const list: Band[] = [];
  for (let index = low; index < high; ++index) {
    const squeezed = index < 0;
    list.push({
      key: String(index), low: index * step, high: (index + 1) * step, squeezed,
      dark: most === 1 ? 0 : (squeezed ? -index - 1 : index) / (most - 1), path: '',
    });
  }
  map.triangles.forEach((corners) => {
    const polygon = corners.map((corner): Corner => ({ at: map.points_m[corner] ?? [0, 0], strain: strain[corner] ?? 0 }));
    const values = polygon.map((corner) => corner.strain);
    const least = Math.min(...values);
    const greatest = Math.max(...values);
    for (const band of list) {
      const first = band === list[0];
      const last = band === list.at(-1);
      if ((greatest < band.low && !first) || (least > band.high && !last)) continue;
      const cut = clipped(clipped(polygon, first ? -Infinity : band.low, 1), last ? Infinity : band.high, -1);
      if (cut.length >= 3) band.path += `M${cut.map((corner) => place(corner.at)).join('L')}Z`;
    }
  });
  return { list, step, digits: step_digits(step * 100) };
}

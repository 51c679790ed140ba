// Painter's order of a form with the blade on it. Everything is cut at the planes of the ribs, which stand
// square to the spar line; slabs between such planes hide each other in a known order, whatever the view.
import type { Point3, ScenePart, SurfaceRow } from '../api/form';
import type { Camera } from './projection';

/** A face with the stretches of its border that are to be drawn; null: all of it. */
export type Face = {
  key: string;
  look: 'base' | 'part' | 'rib' | 'blade' | 'chosen';
  points: Point3[];
  closed: boolean;
  /** Seen through: only its border is drawn. */
  clear?: boolean;
  edges: { from: Point3; to: Point3; heavy: boolean }[] | null;
};

const same = (a: number, b: number) => Math.abs(a - b) < 1e-9;

/** Half of a polygon on one side of a plane square to x; corners on the plane belong to both. */
function half(points: readonly Point3[], x: number, side: 1 | -1): Point3[] {
  const kept: Point3[] = [];
  for (let i = 0; i < points.length; ++i) {
    const a = points[i]!;
    const b = points[(i + 1) % points.length]!;
    const da = side * (a[0] - x);
    const db = side * (b[0] - x);
    if (da >= 0) kept.push(a);
    if ((da > 0 && db < 0) || (da < 0 && db > 0)) {
      const t = da / (da - db);
      kept.push([x, a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])]);
    }
  }
  return kept;
}

function extent_x(points: readonly Point3[]): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (const [x] of points) {
    if (x < low) low = x;
    if (x > high) high = x;
  }
  return [low, high];
}

type Edge = NonNullable<Face['edges']>[number];

/** The stretch of an edge between two planes; none where it lies outside. */
function stretch(edge: Edge, low: number, high: number): Edge[] {
  const { from, to } = edge;
  const dx = to[0] - from[0];
  if (Math.abs(dx) < 1e-12) return from[0] >= low && from[0] <= high ? [edge] : [];
  const a = Math.max(0, Math.min((low - from[0]) / dx, (high - from[0]) / dx));
  const b = Math.min(1, Math.max((low - from[0]) / dx, (high - from[0]) / dx));
  if (!(b > a)) return [];
  const at = (t: number): Point3 => [from[0] + t * dx, from[1] + t * (to[1] - from[1]), from[2] + t * (to[2] - from[2])];
  return [{ ...edge, from: at(a), to: at(b) }];
}

/** The piece of a face in a slab; its border without the stretches made by the cutting. */
function piece(face: Face, low: number, high: number): Face | null {
  const [from, to] = extent_x(face.points);
  if (from >= low - 1e-9 && to <= high + 1e-9) return face;
  if (!face.closed) return null;
  const points = half(half(face.points, low, 1), high, -1);
  if (points.length < 3) return null;
  const edges = face.edges?.flatMap((edge) => stretch(edge, low, high)) ?? points.flatMap((a, index) => {
    const b = points[(index + 1) % points.length]!;
    const cut = (same(a[0], low) && same(b[0], low) && from < low - 1e-9) || (same(a[0], high) && same(b[0], high) && to > high + 1e-9);
    return cut ? [] : [{ from: a, to: b, heavy: false }];
  });
  return { ...face, key: `${face.key} ${low}`, points, edges };
}

/** The blade as strips across it, each with the stretches of the outline it carries. */
export function blade_faces(rows: readonly SurfaceRow[], across = 4): Face[] {
  const faces: Face[] = [];
  for (let row = 0; row + 1 < rows.length; ++row) {
    const a = rows[row]!.points_m;
    const b = rows[row + 1]!.points_m;
    const last = Math.min(a.length, b.length) - 1;
    if (last < 1) continue;
    const step = Math.max(1, Math.round(last / across));
    for (let from = 0; from < last; from += step) {
      const to = last - (from + step) < step / 2 ? last : from + step;
      const edges: Face['edges'] = [];
      if (from === 0) edges.push({ from: a[0]!, to: b[0]!, heavy: true });
      if (to === last) edges.push({ from: a[last]!, to: b[last]!, heavy: true });
      for (let place = from; place < to; ++place) {
        if (row === 0) edges.push({ from: a[place]!, to: a[place + 1]!, heavy: true });
        if (row + 2 === rows.length) edges.push({ from: b[place]!, to: b[place + 1]!, heavy: true });
      }
      faces.push({ key: `blade ${row} ${from}`, look: 'blade', closed: true, edges, points: [...a.slice(from, to + 1), ...b.slice(from, to + 1).reverse()] });
      if (to === last) break;
    }
  }
  return faces;
}

export function part_faces(scene: readonly ScenePart[]): Face[] {
  return scene.map((part, index) => ({
    key: `${part.part} ${index}`,
    look: part.part === 'base' ? 'base' : part.radius_m !== null ? 'rib' : 'part',
    points: part.points_m,
    closed: part.closed,
    clear: part.part === 'block' || part.part === 'ring',
    edges: null,
  }));
}

/** Faces from the farthest to the nearest. */
export function painted(faces: readonly Face[], view: Camera): Face[] {
  const flat = (face: Face) => {
    const [low, high] = extent_x(face.points);
    return high - low < 1e-6;
  };
  const standing = faces.filter((face) => face.look !== 'base');
  const planes = [...new Set(standing.filter(flat).map((face) => Math.round(face.points[0]![0] * 1e7) / 1e7))].sort((a, b) => a - b);
  const bounds = [-Infinity, ...planes, Infinity];
  const near = (face: Face) => face.points.reduce((sum, point) => sum + view.see(point).near, 0) / face.points.length;
  const sorted = (list: Face[]) => list.map((face) => ({ face, near: near(face) })).sort((a, b) => a.near - b.near).map(({ face }) => face);

  const layers: Face[][] = [];
  for (let slab = 0; slab + 1 < bounds.length; ++slab) {
    const low = bounds[slab]!;
    const high = bounds[slab + 1]!;
    if (slab > 0) layers.push(sorted(standing.filter((face) => flat(face) && Math.abs(face.points[0]![0] - low) < 1e-6)));
    layers.push(sorted(standing.flatMap((face) => {
      if (flat(face)) return [];
      const [from, to] = extent_x(face.points);
      if (to <= low + 1e-9 || from >= high - 1e-9) return [];
      return piece(face, low, high) ?? [];
    })));
    // What is open cannot be cut; it is drawn with the slab its middle lies in.
    layers.at(-1)!.push(...standing.filter((face) => {
      if (face.closed || flat(face)) return false;
      const [from, to] = extent_x(face.points);
      const middle = (from + to) / 2;
      return middle >= low && middle < high && (from < low - 1e-9 || to > high + 1e-9);
    }));
  }
  // The eye is never below the bench, so the base lies under everything.
  const base = sorted(faces.filter((face) => face.look === 'base'));
  return [...base, ...(view.towards[0] >= 0 ? layers : layers.reverse()).flat()];
}

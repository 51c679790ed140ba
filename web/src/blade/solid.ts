// Points of one blade in space, from the blade's columns. Geometry for drawing only: x along the
// radius, y along the shaft in the direction of flight, z in the disc along the way it turns.
import type { BladeShape } from '../api/types';

export type BladeMesh = { positions: Float32Array; indices: Uint32Array; edge: Float32Array };

/** Points across the chord, leading edge first. */
export const across = 13;

export function blade_mesh(blade: BladeShape): BladeMesh {
  const rows = blade.radius_m.length;
  const positions = new Float32Array(rows * across * 3);
  for (let row = 0; row < rows; ++row) {
    const radius = blade.radius_m[row]!;
    const lead = Math.abs(blade.lead_m[row] ?? 0);
    const chord = blade.chord_m[row] ?? 0;
    const angle = ((blade.angle_deg[row] ?? 0) * Math.PI) / 180;
    const arch = (blade.camber[row] ?? 0) * chord;
    for (let place = 0; place < across; ++place) {
      const share = place / (across - 1);
      // The camber line as a parabola through both edges: as near to an arc as the eye can tell.
      const along = lead - share * chord;
      const up = 4 * arch * share * (1 - share);
      const at = (row * across + place) * 3;
      positions[at] = radius;
      positions[at + 1] = along * Math.sin(angle) + up * Math.cos(angle);
      positions[at + 2] = along * Math.cos(angle) - up * Math.sin(angle);
    }
  }
  const indices = new Uint32Array(Math.max(0, rows - 1) * (across - 1) * 6);
  let next = 0;
  for (let row = 0; row + 1 < rows; ++row) {
    for (let place = 0; place + 1 < across; ++place) {
      const a = row * across + place;
      const b = a + across;
      indices.set([a, b, a + 1, a + 1, b, b + 1], next);
      next += 6;
    }
  }
  // Round the blade once: out along the leading edge, back along the trailing one.
  const ring: number[] = [];
  const push = (row: number, place: number) => ring.push(...positions.subarray((row * across + place) * 3, (row * across + place) * 3 + 3));
  for (let row = 0; row < rows; ++row) push(row, 0);
  for (let row = rows - 1; row >= 0; --row) push(row, across - 1);
  if (rows > 0) push(0, 0);
  return { positions, indices, edge: new Float32Array(ring) };
}

export type View = { turn: number; tilt: number; distance: number };
export const first_view: View = { turn: 0.35, tilt: 0.5, distance: 1 };

/** A step of the keyboard: arrows turn, plus and minus come nearer or go away. Null for other keys. */
export function view_after_key(view: View, key: string): View | null {
  const step = Math.PI / 24;
  switch (key) {
    case 'ArrowLeft':
      return { ...view, turn: view.turn - step };
    case 'ArrowRight':
      return { ...view, turn: view.turn + step };
    case 'ArrowUp':
      return limited({ ...view, tilt: view.tilt + step });
    case 'ArrowDown':
      return limited({ ...view, tilt: view.tilt - step });
    case '+':
    case '=':
      return limited({ ...view, distance: view.distance / 1.15 });
    case '-':
      return limited({ ...view, distance: view.distance * 1.15 });
    case 'Home':
      return first_view;
    default:
      return null;
  }
}

export function limited(view: View): View {
  return { ...view, tilt: Math.max(-1.55, Math.min(1.55, view.tilt)), distance: Math.max(0.35, Math.min(2.5, view.distance)) };
}

// An axonometric view of things on a bench: turned about the upright, tilted towards the eye. Axes of
// the form: x along the spar line, y across it, z up (the way the model flies).
import type { Point3 } from '../api/form';

/** Radians; distance 1 fills the drawing, 2 is half as large. */
export type View = { turn: number; tilt: number; distance: number };
/** Right and down in the drawing, and how near to the eye. */
export type Seen = { x: number; y: number; near: number };
export type Fit = { scale: number; x: number; y: number };

/** From the trailing side, where the face the blade lies on is seen; the two hands are mirror images. */
export const first_view = (hand: 'clockwise' | 'anticlockwise'): View => ({ turn: hand === 'clockwise' ? -0.2 : 0.2 - Math.PI, tilt: 0.5, distance: 1 });

export function limited(view: View): View {
  const turn = ((((view.turn + Math.PI) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI)) - Math.PI;
  // A form stands on the bench: nothing is to be read from below it.
  return { turn, tilt: Math.max(0.02, Math.min(Math.PI / 2, view.tilt)), distance: Math.max(0.3, Math.min(2.5, view.distance)) };
}

export type Camera = { see: (point: Point3) => Seen; towards: Point3 };

export function camera(view: View): Camera {
  const c = Math.cos(view.turn);
  const s = Math.sin(view.turn);
  const up = Math.cos(view.tilt);
  const down = Math.sin(view.tilt);
  return {
    see: ([x, y, z]) => {
      const right = x * c - y * s;
      const away = x * s + y * c;
      return { x: right, y: -(z * up + away * down), near: z * down - away * up };
    },
    // From the form to the eye.
    towards: [-s * up, -c * up, down],
  };
}

/** Scale and shift that bring the points into a frame with this much room around. */
export function fit_into(points: readonly Seen[], width: number, height: number, room: { x: number; top: number; bottom: number }, largest: number): Fit {
  let left = Infinity;
  let right = -Infinity;
  let top = Infinity;
  let bottom = -Infinity;
  for (const { x, y } of points) {
    if (x < left) left = x;
    if (x > right) right = x;
    if (y < top) top = y;
    if (y > bottom) bottom = y;
  }
  if (!(right >= left)) return { scale: 1, x: 0, y: 0 };
  const wide = Math.max(1, width - 2 * room.x);
  const tall = Math.max(1, height - room.top - room.bottom);
  const scale = Math.min(wide / Math.max(right - left, 1e-9), tall / Math.max(bottom - top, 1e-9), largest);
  return {
    scale,
    x: room.x + wide / 2 - (scale * (left + right)) / 2,
    y: room.top + tall / 2 - (scale * (top + bottom)) / 2,
  };
}

/** A step of the keyboard: arrows turn, plus and minus come nearer or go away. Null for other keys. */
export function view_after_key(view: View, key: string, home: View): View | null {
  const step = Math.PI / 36;
  switch (key) {
    case 'ArrowLeft':
      return limited({ ...view, turn: view.turn - step });
    case 'ArrowRight':
      return limited({ ...view, turn: view.turn + step });
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
      return home;
    default:
      return null;
  }
}

// The form with the blade on it as paths of one drawing: faces from far to near, words where they do not
// cover each other.
import type { FormAnswer, Point3 } from '../api/form';
import type { Profile } from '../api/types';
import { text_width } from '../charts/labels';
import { length_unit, place_number } from './lengths';
import { blade_faces, painted, part_faces, type Face } from './painter';
import { camera, fit_into, type Fit, type View } from './projection';
import type { Section } from './section';

export type Shown = { key: string; look: Face['look']; fill: string; thin: string; heavy: string };
export type Label = { key: string; x: number; y: number; text: string; anchor: 'start' | 'middle' | 'end'; strong: boolean };
export type Picture = { faces: Shown[]; spar: string; labels: Label[] };

type Frame = { view: View; width: number; height: number };
type Place = (point: Point3) => [number, number];

const near_m = 0.0003;
const r1 = (value: number) => Math.round(value * 10) / 10;
const at = ([x, y]: readonly [number, number]) => `${r1(x)} ${r1(y)}`;

/** The section under the hand as a rib would stand there: its curve and the drops to the bench. */
function chosen_face(section: Section, base_z_m: number | null): Face {
  const first = section.points_m[0];
  const last = section.points_m.at(-1);
  const edges: NonNullable<Face['edges']> = [];
  section.points_m.forEach((point, index) => {
    const next = section.points_m[index + 1];
    if (next) edges.push({ from: point, to: next, heavy: true });
  });
  if (base_z_m !== null && first && last) {
    for (const end of [first, last]) edges.push({ from: end, to: [end[0], end[1], base_z_m], heavy: false });
  }
  return { key: 'chosen', look: 'chosen', points: section.points_m, closed: false, edges };
}

function draw(face: Face, place: Place): Shown {
  const ring = face.points.map(place);
  const closed = ring.length > 0 ? `M${ring.map(at).join('L')}${face.closed ? 'Z' : ''}` : '';
  const strokes = (heavy: boolean) => (face.edges ?? []).filter((edge) => edge.heavy === heavy).map((edge) => `M${at(place(edge.from))}L${at(place(edge.to))}`).join('');
  return {
    key: face.key, look: face.look, fill: face.closed && !face.clear ? closed : '',
    thin: face.edges === null ? closed : strokes(false), heavy: strokes(true),
  };
}

function rib_labels(answer: FormAnswer, section: Section | null, place: Place, profile: Profile, height: number): Label[] {
  const labels: Label[] = [];
  let taken: [number, number, number][] = [];
  const is_chosen = (radius_m: number | null) => radius_m !== null && section !== null && Math.abs(radius_m - section.radius_m) < near_m;
  // The chosen one first: what it covers gives way.
  const parts = [...answer.scene].sort((a, b) => Number(is_chosen(b.radius_m)) - Number(is_chosen(a.radius_m)));
  for (const part of parts) {
    if (part.radius_m === null || part.points_m.length === 0) continue;
    const foot = part.points_m.map(place).reduce((low, point) => (point[1] > low[1] ? point : low));
    const text = place_number(part.radius_m, profile);
    const strong = is_chosen(part.radius_m);
    const half = text_width(text, 12) / 2 + 3;
    const y = Math.min(height - 4, foot[1] + 15);
    const label: Label = { key: `rib ${labels.length} ${text}`, x: foot[0], y, text, anchor: 'middle', strong };
    const covers = taken.some(([x, other_y, other_half]) => Math.abs(x - foot[0]) < half + other_half && Math.abs(other_y - y) < 13);
    if (covers) continue;
    taken = [...taken, [foot[0], y, half]];
    labels.push(label);
  }
  return labels;
}

function edge_labels(answer: FormAnswer, place: Place, width: number): Label[] {
  const rows = answer.surface.rows;
  const row = rows[Math.floor(rows.length * 0.45)];
  if (!row || row.points_m.length < 2) return [];
  const trailing = place(row.points_m[0]!);
  const leading = place(row.points_m.at(-1)!);
  const upper = leading[1] < trailing[1];
  const label = (key: string, text: string, [x, y]: [number, number], above: boolean): Label => ({
    key, text, x: Math.max(50, Math.min(width - 50, x)), y: above ? y - 9 : y + 17, anchor: 'middle', strong: false,
  });
  // Seen nearly along the bench the edges fall together, and two words would too.
  if (Math.abs(leading[1] - trailing[1]) < 16) return [];
  return [label('leading', 'leading edge', leading, upper), label('trailing', 'trailing edge', trailing, !upper)];
}

/** What the eye sees of the form in a frame of this many pixels. */
export function picture_of(answer: FormAnswer, section: Section | null, profile: Profile, { view, width, height }: Frame): Picture {
  const eye = camera(view);
  const rows = answer.surface.rows;
  const faces = [...part_faces(answer.scene), ...blade_faces(rows), ...(section ? [chosen_face(section, answer.base_z_m)] : [])];
  const first = rows[0]?.radius_m ?? 0;
  const last = rows.at(-1)?.radius_m ?? 0;
  const spar = answer.surface.spar_m;
  const seen = [...faces.flatMap((face) => face.points), ...spar].map(eye.see);
  const largest = (1.7 * width) / Math.max(last - first, 1e-6);
  const room = { x: 14, top: 22, bottom: 26 };
  const whole: Fit = fit_into(seen, width, height, room, largest);
  const scale = whole.scale / view.distance;
  const middle = { x: width / 2, y: height / 2 };
  const place: Place = (point) => {
    const { x, y } = eye.see(point);
    return [middle.x + (whole.x + whole.scale * x - middle.x) * (scale / whole.scale), middle.y + (whole.y + whole.scale * y - middle.y) * (scale / whole.scale)];
  };
  const line = spar.map(place);
  const a = line[0] ?? [middle.x, middle.y];
  const labels: Label[] = [
    ...rib_labels(answer, section, place, profile, height),
    ...edge_labels(answer, place, width),
    { key: 'spar', text: 'spar line', x: Math.max(28, Math.min(width - 28, a[0])), y: a[1] - 8, anchor: 'middle', strong: false },
  ];
  return { faces: painted(faces, eye).map((face) => draw(face, place)), spar: line.length > 1 ? `M${line.map(at).join('L')}` : '', labels };
}

/** The same in words. */
export function picture_words(answer: FormAnswer, profile: Profile): string {
  const ribs = answer.scene.filter((part) => part.radius_m !== null);
  const rows = answer.surface.rows;
  const first = rows[0];
  const last = rows.at(-1);
  const radii = ribs.map((part) => place_number(part.radius_m!, profile)).join(', ');
  const blade = first && last
    ? `The blade lies on it from ${place_number(first.radius_m, profile)} to ${place_number(last.radius_m, profile)} ${length_unit(profile)} of radius, at ${Math.round(first.angle_deg)}° at the root and ${Math.round(last.angle_deg)}° at the tip.`
    : '';
  return `Form for a propeller turning ${answer.hand}, seen from behind. ${blade}${ribs.length > 0 ? ` Cross pieces at ${radii} ${length_unit(profile)}.` : ''}`;
}

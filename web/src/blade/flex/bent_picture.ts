// The bent blade as paths of one drawing, over the blade without loads.
import type { Point3 } from '../../api/form';
import { camera, fit_into, type View } from '../../form/projection';
import { ring_of, type BentRow } from './bent';

export type BentPicture = {
  strips: { key: number; d: string }[];
  outline: string;
  spar: string;
  chords: string;
  ghost: string;
  ghost_spar: string;
  ghost_chords: string;
  shaft: string;
  arrow: string;
  words: { key: string; x: number; y: number; text: string; anchor: 'start' | 'end' }[];
};

type Frame = { view: View; width: number; height: number };

const r1 = (value: number) => Math.round(value * 10) / 10;

/** Sections that are drawn to show the twist, as shares along the rows. */
const shown_sections = [0.25, 0.5, 0.75, 0.93];

/** `reach` are all rows the slider can bring, so that the scale stays while it moves. */
export function bent_picture(rest: readonly BentRow[], bent: readonly BentRow[], reach: readonly (readonly BentRow[])[], tip_words: string, { view, width, height }: Frame): BentPicture {
  const eye = camera(view);
  const tip = rest.at(-1)?.radius_m ?? 0;
  const shaft: Point3[] = [[0, 0, -0.16 * tip], [0, 0, 0.05 * tip]];
  const every = [...shaft, ...rest.flatMap((row) => row.points), ...reach.flatMap((rows) => rows.flatMap((row) => row.points))];
  const fit = fit_into(every.map(eye.see), width, height, { x: 18, top: 26, bottom: 22 }, 1e9);
  const middle = { x: width / 2, y: height / 2 };
  const place = (point: Point3): [number, number] => {
    const { x, y } = eye.see(point);
    return [middle.x + (fit.x + fit.scale * x - middle.x) / view.distance, middle.y + (fit.y + fit.scale * y - middle.y) / view.distance];
  };
  const path = (points: readonly Point3[], closed = false) => (points.length === 0 ? '' : `M${points.map((point) => place(point).map(r1).join(' ')).join('L')}${closed ? 'Z' : ''}`);
  const near = (points: readonly Point3[]) => points.reduce((sum, point) => sum + eye.see(point).near, 0) / Math.max(1, points.length);
  const sections = (rows: readonly BentRow[]) => shown_sections.map((share) => path(rows[Math.round(share * (rows.length - 1))]?.points ?? [])).join('');

  const strips = bent.slice(1).map((row, index) => {
    const points = [...bent[index]!.points, ...[...row.points].reverse()];
    return { key: index, d: path(points, true), near: near(points) };
  }).sort((a, b) => a.near - b.near);
  const head = place([0, 0, 0.05 * tip]);
  const foot = place([0, 0, -0.16 * tip]);
  const way = head[1] < foot[1] ? -1 : 1;
  return {
    strips,
    outline: path(ring_of(bent), true),
    spar: path([[0, 0, 0], ...bent.map((row) => row.spar)]),
    chords: sections(bent),
    ghost: path(ring_of(rest), true),
    ghost_spar: path([[0, 0, 0], ...rest.map((row) => row.spar)]),
    ghost_chords: sections(rest),
    shaft: path(shaft),
    arrow: `M${r1(head[0] - 4)} ${r1(head[1] - way * 7)}L${r1(head[0])} ${r1(head[1])}L${r1(head[0] + 4)} ${r1(head[1] - way * 7)}`,
    words: [
      { key: 'flight', x: head[0] + 8, y: head[1] + 4, text: 'flight', anchor: 'start' },
      { key: 'tip', x: width - 4, y: 14, text: tip_words, anchor: 'end' },
    ],
  };
}

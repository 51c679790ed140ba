// The flight seen from the side of its circle: a drawing of the answer, no flight of its own.
import type { History } from '../api/types';

const most_turns = 60;

/**
 * Path of a model on a circle of this radius, as svg path data. The angle advances by the distance
 * flown over the radius. Empty for straight flight; more circles than can be told apart are thinned.
 */
export function spiral(history: History, radius_m: number, place: (x_m: number, z_m: number) => [number, number]): string {
  const { time_s, height_m, speed_m_s } = history;
  if (radius_m <= 0 || time_s.length < 2) return '';
  const angle: number[] = [0];
  for (let row = 1; row < time_s.length; ++row) {
    const step = (time_s[row]! - time_s[row - 1]!) * 0.5 * (speed_m_s[row]! + speed_m_s[row - 1]!);
    angle.push(angle[row - 1]! + step / radius_m);
  }
  const turns = angle.at(-1)! / (2 * Math.PI);
  const shrink = turns > most_turns ? most_turns / turns : 1;
  let data = '';
  for (let row = 1; row < time_s.length; ++row) {
    const from = angle[row - 1]! * shrink;
    const to = angle[row]! * shrink;
    const pieces = Math.max(1, Math.ceil((to - from) / 0.25));
    for (let piece = row === 1 ? 0 : 1; piece <= pieces; ++piece) {
      const share = piece / pieces;
      const turned = from + (to - from) * share;
      const height = height_m[row - 1]! + (height_m[row]! - height_m[row - 1]!) * share;
      const [x, y] = place(radius_m * Math.cos(turned), height);
      data += `${data === '' ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`;
    }
  }
  return data;
}

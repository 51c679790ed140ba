// Handles that write a field of the job. The drawing says how far the hand moved, in SI.
import type { JobValue } from '../api/types';
import type { Handle } from '../charts/types';
import { design } from '../store/design.svelte';
import { fields, job_text, pretty_unit, shown_number, to_shown, to_si } from '../store/fields.svelte';

export type FieldHandle = {
  path: string;
  label: string;
  /** Word before the number in the drawing. */
  word?: string;
  x: number;
  y: number;
  along: 'x' | 'y';
  /** Value in force, SI. */
  now: number | null | undefined;
  /** Value for a movement in SI along the axis; the movement itself is added where left out. */
  value_for?: (start: number, moved: number) => number;
  /** Fields that go or change together with this one. */
  also?: { [path: string]: JobValue | undefined };
  /** Bounds narrower than the field's own. */
  low?: number;
  high?: number;
};

/** The next whole multiple of the step in this direction, `count` steps on. */
export function stepped(shown: number, step: number, count: number): number {
  const size = Math.abs(count);
  return count > 0
    ? Math.floor(shown / step + 1e-6) * step + step * size
    : Math.ceil(shown / step - 1e-6) * step - step * size;
}

/** A handle for a field, or none when the field has no value to show. */
export function field_handle(spec: FieldHandle): Handle[] {
  const info = fields.of(spec.path);
  const { now } = spec;
  if (!info || now === null || now === undefined || !Number.isFinite(now)) return [];
  const { profile } = design;
  const low = Math.max(spec.low ?? -Infinity, info.low ?? -Infinity);
  const high = Math.min(spec.high ?? Infinity, info.high ?? Infinity);
  const unit = info.unit[profile];
  const number = shown_number(now, info, profile);
  const text = unit === '' ? number : `${number}\u00a0${pretty_unit(unit)}`;
  const write = (si: number, gesture: string) => {
    const value = job_text(to_shown(Math.min(high, Math.max(low, si)), info, profile), info, profile);
    design.update({ ...spec.also, [spec.path]: value }, gesture);
  };
  return [
    {
      key: spec.path,
      label: spec.label,
      x: spec.x,
      y: spec.y,
      along: spec.along,
      now: to_shown(now, info, profile),
      low: to_shown(Number.isFinite(low) ? low : 0, info, profile),
      high: to_shown(Number.isFinite(high) ? high : now * 2, info, profile),
      text: spec.word ? `${spec.word} ${text}` : text,
      grab: () => {
        const start = now;
        return (moved) => write(spec.value_for ? spec.value_for(start, moved) : start + moved, `drag ${spec.path}`);
      },
      step: (count) => write(to_si(stepped(to_shown(now, info, profile), info.step[profile], count), info, profile), `step ${spec.path}`),
      settle: () => design.settle(),
    },
  ];
}

/** A length as the job takes it, in the shown unit. */
export function length_text(path: string, si: number): string | number {
  const info = fields.of(path);
  return info ? job_text(to_shown(si, info, design.profile), info, design.profile) : `${(si * 1000).toFixed(1)} mm`;
}

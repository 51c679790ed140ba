// The designs a winding card can be for, as the pages have them, and whether a motor of the workshop is that of a design.
import type { DesignDocument, JobTable } from '../api/types';
import { read } from '../lib/jobpath';
import { learned_keys, learned_labels, uses_learned } from '../lib/learned';
import { fields, pretty_unit, shown_number, simple_si } from '../store/fields.svelte';
import type { Flyable } from './wind';

const text_of = (job: JobTable, path: string) => String(read(job, path) ?? '');

export const flyable_of = (id: string, title: string, document: DesignDocument): Flyable => ({
  id, title, document,
  propeller: text_of(document.job, 'propeller.name'),
  model: text_of(document.job, 'model.name'),
  learned: uses_learned(document.job) ? learned_keys(document.job).map((key) => learned_labels[key]!) : [],
});

const compared = [['motor.strands', 'strands'], ['motor.strip_width', 'strip'], ['motor.strip_thickness', 'thickness'], ['motor.loop_length', 'loop'], ['motor.mass', 'mass']] as const;
/** Cut and weighed by hand: closer than this it is the same motor. */
const alike = 0.02;

/** In what a motor differs from the design's, in words; null where the motor is not known. */
export function motor_differs(section: JobTable | undefined, { job }: DesignDocument): string[] | null {
  if (!section) return null;
  const profile = read(job, 'job.units') === 'inch' ? 'inch' : 'metric';
  return compared.flatMap(([path, words]) => {
    const info = fields.of(path);
    if (!info) return [];
    const theirs = simple_si(read(section, path), info), ours = simple_si(read(job, path), info);
    if (theirs === null || ours === null || Math.abs(theirs - ours) <= alike * Math.abs(ours)) return [];
    const unit = info.unit[profile] === '' ? '' : `\u00a0${pretty_unit(info.unit[profile])}`;
    return [`${words} ${shown_number(theirs, info, profile)}${unit}, the design's ${shown_number(ours, info, profile)}${unit}`];
  });
}

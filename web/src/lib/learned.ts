// What flights taught, as a design holds it in its table `learned`.
import type { JobTable } from '../api/types';

export const learned_labels: { [key: string]: string } = {
  airframe_drag: 'Drag of the model',
  trim_lift: 'Trim',
  circle_radius: 'Circle flown',
  rubber_energy: 'Energy of the rubber',
  rubber_turns: 'Turns the rubber takes',
  polar_lift_slope: 'Sections, lift slope',
  polar_drag: 'Sections, drag',
  polar_cl_max: 'Sections, greatest lift',
  polar_zero_lift: 'Sections, zero-lift angle',
  blade_angle: 'Blade angle',
  blade_stiffness: 'Blade, stiffness',
  blade_moment: 'Blade, moment of its sections',
};

/** The parameters a design holds learned values of, in the order they are shown. */
export function learned_keys(job: JobTable): string[] {
  const table = job.learned;
  if (typeof table !== 'object' || table === null || Array.isArray(table)) return [];
  return Object.keys(learned_labels).filter((key) => key in table || `${key}_doubt` in table);
}

/** Whether the predictions of a design use what flights taught. */
export function uses_learned(job: JobTable): boolean {
  const table = job.learned as JobTable | undefined;
  return learned_keys(job).length > 0 && table?.use !== false;
}

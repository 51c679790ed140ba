// What rubber strip is where nothing was measured: the job's own defaults, so that one motor has one size everywhere.
import type { Profile } from '../../api/types';
import { fields, shown_number } from '../../store/fields.svelte';

/** "1.04": what stands for an empty field, of the batch where that was `measured`. */
export function usual(path: 'motor.strip_thickness' | 'rubber.density', profile: Profile, measured?: number | null): string {
  const info = fields.of(path), si = measured ?? info?.default_value;
  return info && typeof si === 'number' ? shown_number(si, info, profile) : '';
}

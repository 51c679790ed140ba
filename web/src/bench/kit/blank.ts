import type { JobValue } from '../../api/types';

/** True where nothing was written: no record is made of that, and nothing of it is asked. */
export function is_blank(value: JobValue | undefined): boolean {
  if (value === undefined || value === '' || value === false) return true;
  if (Array.isArray(value)) return value.every((row) => is_blank(row as JobValue));
  return typeof value === 'object' && Object.values(value).every((part) => is_blank(part));
}

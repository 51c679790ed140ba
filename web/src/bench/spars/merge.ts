// Two devices at one bench: what each entered of the same spar, put together.
import type { SparText } from '../../api/types';
import { same } from '../../lib/jobpath';

const when = (state: { measured_at?: string }): string => state.measured_at ?? '';

/**
 * Both only added states to the same ones, or only one of the two changed anything: then nothing is lost.
 * Null where the same thing was changed in two ways, and the builder must choose.
 */
export function merged(base: SparText | null, mine: SparText, theirs: SparText): SparText | null {
  if (same(mine, theirs)) return mine;
  if (base && same(base, theirs)) return mine;
  if (base && same(base, mine)) return theirs;
  if (!base) return null;
  const { states: before = [], ...rest } = base;
  const { states: own = [], ...own_rest } = mine;
  const { states: other = [], ...other_rest } = theirs;
  const added_only = (states: typeof before) => states.length >= before.length && same(states.slice(0, before.length), before);
  if (!same(rest, own_rest) || !same(rest, other_rest) || !added_only(own) || !added_only(other)) return null;
  const added = [...other.slice(before.length), ...own.slice(before.length)].sort((a, b) => when(a).localeCompare(when(b)));
  return { ...rest, states: [...before, ...added] };
}

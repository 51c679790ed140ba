// What a repair changed, as rows of text in the builder's units. Conversion and rounding only.
import type { Profile } from '../../api/types';
import { fixed, signed } from '../../lib/format';
import { factor_of, unit_of } from '../kit/say';
import type { LifeState } from './life.svelte';

type Change = LifeState['changes'][number];
export type ChangeRow = { key: string; words: string; unit: string; before: string; after: string; change: string };

const of_words: Readonly<Record<Change['of'], string>> = { propeller: 'whole', blade_a: 'A', blade_b: 'B' };

function scale_of(change: Change, profile: Profile): { unit: string; factor: number; digits: number } {
  if (change.unit === 'deg') return { unit: '°', factor: 1, digits: 1 };
  const figure = change.unit === 'kg' ? 'mass' : 'moment';
  return { unit: unit_of(figure, profile), factor: factor_of(figure, profile), digits: change.unit === 'kg' ? 1 : profile === 'metric' ? 0 : 1 };
}

function words_of(change: Change): string {
  const what = change.what === 'angle' ? (change.of === 'propeller' ? 'set angle' : 'mean angle') : change.what;
  return change.of === 'propeller' && change.what === 'angle' ? what : `${what}, ${of_words[change.of]}`;
}

export function change_rows(state: LifeState, profile: Profile): ChangeRow[] {
  return state.changes.map((change) => {
    const { unit, factor, digits } = scale_of(change, profile);
    return {
      key: `${change.of} ${change.what}`,
      words: words_of(change),
      unit,
      before: fixed(change.before * factor, digits),
      after: fixed(change.after * factor, digits),
      change: change.measured_again ? signed((change.after - change.before) * factor, digits) : 'as before',
    };
  });
}

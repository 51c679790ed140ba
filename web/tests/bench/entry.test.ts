import { expect, test } from 'vitest';
import { empty_texts, entered, field_of, is_untouched, texts_of, type Entering } from '../../src/bench/spars/entry';
import { merged } from '../../src/bench/spars/merge';

const rig = { load: '0.270 g', load_at: '6 in', read_at: '6 in' };
const entering: Entering = { mode: 'new', profile: 'inch', batch: { shape: 'square', length: '7.25 in' }, rig, at: '2026-03-01T10:00:00Z' };
const stripped = { ...empty_texts('11'), mass: '27.1', root: '59.5', middle: '45', tip: '31', reading_0: '352', reading_90: '412 411' };

test('a new spar has the length of its batch and keeps the rig with its readings', () => {
  expect(entered(null, stripped, entering)).toEqual({
    id: '11', shape: 'square', length: '7.25 in',
    states: [{
      measured_at: '2026-03-01T10:00:00Z', rig, root_width: '59.5 thou', middle_width: '45 thou', tip_width: '31 thou', mass: '27.1 mg',
      reading_0: ['352 thou'], reading_90: ['412 thou', '411 thou'],
    }],
  });
});

test('a round of sanding is a state of its own with what came off and from where', () => {
  const first = entered(null, stripped, entering);
  const spar = entered(first, { ...empty_texts('11'), reading_0: '366', reading_90: '418', off_0: '0.3' }, { ...entering, mode: 'round', sanded_from: '1.5 in' });
  expect(spar.states).toHaveLength(2);
  expect(spar.states?.[1]).toEqual({
    measured_at: '2026-03-01T10:00:00Z', rig, reading_0: ['366 thou'], reading_90: ['418 thou'], off_each_face_0: '0.3 thou', sanded_from: '1.5 in',
  });
});

test('reading again adds repeats and leaves the sizes', () => {
  const first = entered(null, stripped, entering);
  const spar = entered(first, { ...empty_texts('11'), reading_0: '353 351' }, { ...entering, mode: 'again', at: 'later' });
  expect(spar.states).toHaveLength(1);
  expect(spar.states?.[0]?.reading_0).toEqual(['352 thou', '353 thou', '351 thou']);
  expect(spar.states?.[0]?.reading_90).toEqual(['412 thou', '411 thou']);
  expect(spar.states?.[0]?.root_width).toBe('59.5 thou');
});

test('correcting puts the typed values in place, an emptied field empties the value', () => {
  const first = entered(null, stripped, entering);
  const shown = texts_of('11', first.states![0]!, 'inch');
  expect(shown).toEqual({ ...stripped, reading_90: '412 411' });
  const spar = entered(first, { ...shown, middle: '', mass: '27.4' }, { ...entering, mode: 'correct', at: 'later' });
  expect(spar.states?.[0]?.middle_width).toBeUndefined();
  expect(spar.states?.[0]?.mass).toBe('27.4 mg');
  expect(spar.states?.[0]?.measured_at).toBe('2026-03-01T10:00:00Z');
});

test('a problem finds its field in the row', () => {
  expect(field_of('spars[1].states[3].reading_0[2]')).toBe('reading_0');
  expect(field_of('spars[1].states[1].root_depth')).toBe('root');
  expect(field_of('spars[4].states[1].mass')).toBe('mass');
  expect(field_of('spars[4].states[2].off_each_face_90')).toBe('off_90');
  expect(field_of('spars[1].length')).toBeNull();
  expect(field_of('rig.load')).toBeNull();
});

test('a row with nothing but a name is untouched', () => {
  expect(is_untouched(empty_texts('12'))).toBe(true);
  expect(is_untouched(stripped)).toBe(false);
});

test('states added on two devices are both kept, in the order of their readings', () => {
  const base = entered(null, stripped, entering);
  const round = (at: string, reading: string) => entered(base, { ...empty_texts('11'), reading_0: reading }, { ...entering, mode: 'round', at });
  const both = merged(base, round('2026-03-01T12:00:00Z', '380'), round('2026-03-01T11:00:00Z', '366'));
  expect(both?.states?.map((state) => state.reading_0?.[0])).toEqual(['352 thou', '366 thou', '380 thou']);
});

test('the same state changed in two ways is for the builder to settle', () => {
  const base = entered(null, stripped, entering);
  const mine = entered(base, { ...stripped, mass: '27.4' }, { ...entering, mode: 'correct' });
  const theirs = entered(base, { ...stripped, mass: '27.9' }, { ...entering, mode: 'correct' });
  expect(merged(base, mine, theirs)).toBeNull();
  expect(merged(base, mine, base)).toEqual(mine);
  expect(merged(base, base, theirs)).toEqual(theirs);
});

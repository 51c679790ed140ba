import { describe, expect, it } from 'vitest';
import { compared, flown_in, guess, learned_for, named, paired, propeller_of, type Design } from '../../src/verdict/pairs';

const design = (id: string, title: string, propeller?: string): Design => ({ id, title, document: { job: { job: { name: title }, propeller: propeller ? { name: propeller } : {} } } });
const flights = [
  { id: 'a', propeller: 'P12', time: '2026-11-18T14:00' },
  { id: 'b', propeller: 'P14', time: '2026-11-18T14:30' },
  { id: 'c', propeller: 'P9', time: '2026-10-01T10:00' },
  { id: 'd', propeller: 'P12', time: '2026-11-24T09:00' },
  { id: 'e' },
];

describe('propellers of a log', () => {
  it('stand by when they flew last, with their flights', () => {
    expect(flown_in(flights)).toEqual([
      { name: 'P12', flights: 2, last: '2026-11-24T09:00' },
      { name: 'P14', flights: 1, last: '2026-11-18T14:30' },
      { name: 'P9', flights: 1, last: '2026-10-01T10:00' },
    ]);
  });
  it('are compared as chosen, else the two flown last, by name', () => {
    const flown = flown_in(flights);
    expect(compared(null, flown)).toEqual(['P12', 'P14']);
    expect(compared(['P14', 'P9', 'gone'], flown)).toEqual(['P9', 'P14']);
    expect(compared(['gone'], flown)).toEqual(['P12', 'P14']);
    expect(compared([], flown)).toEqual([]);
  });
});

describe('the design of a propeller', () => {
  const designs = [design('1', 'Lantern 46', 'P14'), design('2', 'P-12'), design('3', 'Heron', 'X'), design('4', 'Heron again', 'X')];
  it('is the one with its name, whatever the hyphens', () => {
    expect(guess('p 14', designs)).toBe('1');
    expect(guess('P12', designs)).toBe('2');
  });
  it('is not guessed among several', () => {
    expect(guess('X', designs)).toBeNull();
    expect(guess('', designs)).toBeNull();
  });
  it('is what the builder said, even none', () => {
    expect(paired('P14', { P14: '3' }, designs)?.id).toBe('3');
    expect(paired('P14', { P14: '' }, designs)).toBeNull();
    expect(paired('P14', { P14: 'gone' }, designs)).toBeNull();
  });
  it('goes to the program under the name of the log, and stays as it was', () => {
    const own = designs[1]!.document;
    expect(propeller_of(named(own, 'P12'))).toBe('P12');
    expect(propeller_of(own)).toBe('');
  });
});

describe('what flights taught, taken into a design', () => {
  const document = { job: { propeller: { name: 'Pair 18' } }, attachments: {} } as unknown as Design['document'];
  it('is of the propeller as the design calls it', () => {
    expect(learned_for(document, { airframe_drag: '1.06', propeller: 'P18' })).toEqual({ airframe_drag: '1.06', propeller: 'Pair 18' });
  });
  it('keeps a table without names as it is', () => {
    expect(learned_for(document, { airframe_drag: '1.06' })).toEqual({ airframe_drag: '1.06' });
    expect(learned_for({ ...document, job: {} }, { propeller: 'P18' })).toEqual({});
  });
});

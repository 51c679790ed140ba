import { describe, expect, it } from 'vitest';
import { count_of, difference, doubtful, number, sentence, stiffness_parts, text } from '../../src/bench/kit/say';

describe('figures of the bench', () => {
  it('are shown in the unit of the profile', () => {
    expect(text(0.0015, 'fine', 'metric')).toBe('1.50\u00a0mm');
    expect(text(0.0015113, 'fine', 'inch')).toBe('59.5\u00a0thou');
    expect(number(4.1e-8, 'moment', 'metric')).toBe('41');
    expect(number(80.1, 'density', 'inch')).toBe('5.0');
  });

  it('carry no more digits than their doubt allows one to read', () => {
    expect(doubtful(12.437e-6, 0.6e-6, 'mass', 'metric')).toBe('12.4\u00a0± 0.6\u00a0mg');
    expect(doubtful(12.437e-6, 0.04e-6, 'mass', 'metric')).toBe('12.44\u00a0± 0.04\u00a0mg');
    expect(doubtful(12.437e-6, null, 'mass', 'metric')).toBe('12.4\u00a0mg');
  });

  it('say nothing of what is not known', () => {
    expect(number(null, 'mass', 'metric')).toBe('\u2013');
    expect(difference(undefined, 'mass', 'metric')).toBe('\u2013');
  });

  it('have their sign where they are differences', () => expect(difference(6.04e-6, 'mass', 'metric')).toBe('+6.0'));

  it('tell stiffness in newton square millimetres', () => {
    expect(stiffness_parts(15.49e-6, 0.762e-6)).toEqual({ value: '15.49', doubt: '0.76' });
    expect(stiffness_parts(2.53e-4, 2.4e-5)).toEqual({ value: '253', doubt: '24' });
  });

  it('make a sentence of what is told in a row', () => {
    expect(sentence('density as wished, 4.5 lb/ft3; A grain')).toBe('Density as wished, 4.5 lb/ft³; A grain.');
    expect(sentence('')).toBe('');
  });

  it('take a count as a number and leave the rest to the server', () => {
    expect(count_of(' 4 ')).toBe(4);
    expect(count_of('four')).toBe('four');
    expect(count_of('')).toBe(undefined);
  });
});

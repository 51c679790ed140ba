import { describe, expect, it } from 'vitest';
import { day_of, days_between, in_hundred, look_of, milligrams, off_sheet, unbroken, when } from '../../src/verdict/texts';

describe('odds in a hundred', () => {
  it('are rounded, but never up to the threshold they fall short of', () => {
    expect(in_hundred(0.884, 0.95)).toBe('88');
    expect(in_hundred(0.9487, 0.95)).toBe('94.8');
    expect(in_hundred(0.951, 0.95)).toBe('95');
  });
  it('are never told as certain', () => {
    expect(in_hundred(0.9999)).toBe('over 99');
    expect(in_hundred(0.0001)).toBe('under 1');
    expect(in_hundred(NaN)).toBe('–');
  });
});

describe('days of a log', () => {
  it('are told by day and month', () => {
    expect(day_of('2026-11-18T14:05')).toBe('18\u00a0Nov');
    expect(when('2026-11-18T14:05:30')).toBe('18\u00a0Nov, 14:05');
    expect(when('')).toBe('undated');
    expect(day_of('2026-13-01')).toBe('');
  });
  it('span a day, a month, months, years', () => {
    expect(days_between(['2026-11-18T14:05', '2026-11-18T09:00'])).toBe('18\u00a0Nov');
    expect(days_between(['2026-11-24', '', '2026-11-18'])).toBe('18 to 24\u00a0Nov');
    expect(days_between(['2026-10-30', '2026-11-02'])).toBe('30\u00a0Oct to 2\u00a0Nov');
    expect(days_between(['2025-12-30', '2026-01-02'])).toBe('30\u00a0Dec\u00a02025 to 2\u00a0Jan\u00a02026');
    expect(days_between([])).toBe('');
  });
});

it('a factor is told by how far it is off the sheet', () => {
  expect(off_sheet(1.082)).toBe('+8.2');
  expect(off_sheet(0.96)).toBe('\u22124.0');
  expect(off_sheet(1)).toBe('0.0');
  expect(off_sheet(1.234)).toBe('+23');
});

it('ballast is whole milligrams, and propellers differ in shape', () => {
  expect(milligrams(0.0000064)).toBe('6\u00a0mg');
  expect(new Set([0, 1, 2, 3].map((index) => look_of(index).shape)).size).toBe(4);
});

it('a doubt stays on the line of its number', () => {
  expect(unbroken('A is ahead by 18 ± 14\u00a0s, within ± 5\u00a0%.')).toBe('A is ahead by 18\u00a0±\u00a014\u00a0s, within\u00a0±\u00a05\u00a0%.');
});

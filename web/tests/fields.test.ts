import { describe, expect, it } from 'vitest';
import type { FieldInfo } from '../src/api/types';
import { completed, field_key, job_text, pretty_unit, shown_number, simple_si, split } from '../src/store/fields.svelte';

function field(part: Partial<FieldInfo>): FieldInfo {
  return {
    field: 'x', kind: 'length', required: false, low: null, high: null,
    low_text: { metric: '', inch: '' }, high_text: { metric: '', inch: '' },
    default_text: '', default_value: null, choices: [], meaning: '',
    unit: { metric: 'mm', inch: 'in' }, factor: { metric: 1000, inch: 1 / 0.0254 },
    offset: { metric: 0, inch: 0 }, digits: { metric: 1, inch: 3 }, step: { metric: 1, inch: 0.05 },
    ...part,
  };
}
const length = field({});
const temperature = field({
  kind: 'temperature', unit: { metric: 'degC', inch: 'degF' }, factor: { metric: 1, inch: 1.8 },
  offset: { metric: -273.15, inch: -459.67 }, digits: { metric: 1, inch: 0 },
});
const ratio = field({ kind: 'number', unit: { metric: '', inch: '' }, factor: { metric: 1, inch: 1 }, digits: { metric: 3, inch: 3 } });

describe('split', () => {
  it('parts number and unit', () => {
    expect(split('0.040 in')).toEqual({ number: '0.040', value: 0.04, unit: 'in' });
    expect(split(' 12mm ')).toEqual({ number: '12', value: 12, unit: 'mm' });
    expect(split('\u22125 degC')?.value).toBe(-5);
  });
  it('leaves fractions and words to the server', () => {
    expect(split('a foot')).toBeNull();
    expect(split('1 1/2 in')?.unit).not.toBe('in');
  });
});

describe('completed', () => {
  it('gives a bare number the shown unit', () => {
    expect(completed('15', length, 'inch')).toBe('15 in');
    expect(completed('0.040', length, 'inch')).toBe('0.040 in');
    expect(completed('381', length, 'metric')).toBe('381 mm');
  });
  it('keeps what was written with a unit', () => {
    expect(completed('1 mm', length, 'inch')).toBe('1 mm');
    expect(completed('1 1/2 in', length, 'metric')).toBe('1 1/2 in');
    expect(completed('40 thou', length, 'metric')).toBe('40 thou');
  });
  it('takes the field out when it is emptied', () => expect(completed('  ', length, 'metric')).toBeUndefined());
  it('writes pure numbers as numbers and shares as text', () => {
    expect(completed('0.06', ratio, 'metric')).toBe(0.06);
    expect(completed('6 %', ratio, 'metric')).toBe('6 %');
  });
  it('passes nonsense on, for the server to refuse in words', () => expect(completed('12,5', length, 'metric')).toBe('12,5'));
});

describe('simple_si', () => {
  it('reads both shown units', () => {
    expect(simple_si('15 in', length)).toBeCloseTo(0.381, 12);
    expect(simple_si('381 mm', length)).toBeCloseTo(0.381, 12);
    expect(simple_si('20 degC', temperature)).toBeCloseTo(293.15, 9);
    expect(simple_si('68 degF', temperature)).toBeCloseTo(293.15, 9);
  });
  it('knows no other unit', () => expect(simple_si('40 thou', length)).toBeNull());
  it('reads shares', () => {
    expect(simple_si('50 %', ratio)).toBe(0.5);
    expect(simple_si(0.5, ratio)).toBe(0.5);
  });
});

describe('texts', () => {
  it('are rounded to the profile and plain', () => {
    expect(job_text(381.04, length, 'metric')).toBe('381.0 mm');
    expect(job_text(-0.001, length, 'metric')).toBe('0.0 mm');
    expect(job_text(0.0604, ratio, 'metric')).toBe(0.06);
    expect(shown_number(0.381, length, 'inch')).toBe('15.000');
  });
  it('read units as print has them', () => {
    expect(pretty_unit('cm2')).toBe('cm²');
    expect(pretty_unit('kg/m3')).toBe('kg/m³');
    expect(pretty_unit('degC')).toBe('°C');
    expect(pretty_unit('mm')).toBe('mm');
  });
  it('find the row field of a table', () => expect(field_key('propeller.station[2].radius')).toBe('propeller.station.radius'));
});

import { describe, expect, it } from 'vitest';
import { clock, count_word, duration, fixed, short, signed, signed_clock, significant } from '../src/lib/format';

describe('fixed', () => {
  it('uses the true minus sign', () => expect(fixed(-1.25, 2)).toBe('\u22121.25'));
  it('writes no minus before a zero', () => expect(fixed(-0.001, 2)).toBe('0.00'));
  it('groups from ten thousand on', () => {
    expect(fixed(9999, 0)).toBe('9999');
    expect(fixed(12345.6, 1)).toBe('12\u202f345.6');
  });
  it('shows a dash for what is no number', () => expect(fixed(NaN, 1)).toBe('\u2013'));
});

describe('signed', () => {
  it('marks gains with a plus', () => expect(signed(0.11, 2)).toBe('+0.11'));
  it('marks losses with a minus', () => expect(signed(-6, 0)).toBe('\u22126'));
  it('writes a vanishing loss as plus zero', () => expect(signed(-0.004, 2)).toBe('+0.00'));
});

describe('short', () => {
  it('drops zeros at the end only', () => {
    expect(short(8, 2)).toBe('8');
    expect(short(8.5, 2)).toBe('8.5');
    expect(short(100, 0)).toBe('100');
  });
});

describe('significant', () => {
  it('keeps three digits', () => {
    expect(significant(0.0012345)).toBe('0.00123');
    expect(significant(12.345)).toBe('12.3');
    expect(significant(1234.5)).toBe('1235');
  });
});

describe('durations', () => {
  it('round once, to the second', () => {
    expect(duration(59.6)).toBe('1\u00a0min 00\u00a0s');
    expect(duration(41.2)).toBe('41\u00a0s');
    expect(duration(567.3)).toBe('9\u00a0min 27\u00a0s');
  });
  it('have a clock form', () => {
    expect(clock(567.3)).toBe('9:27');
    expect(clock(-200)).toBe('\u22123:20');
    expect(signed_clock(26)).toBe('+0:26');
    expect(signed_clock(-0.2)).toBe('+0:00');
  });
});

describe('count_word', () => {
  it('spells up to twelve', () => {
    expect(count_word(0)).toBe('no');
    expect(count_word(12)).toBe('twelve');
    expect(count_word(13)).toBe('13');
  });
});

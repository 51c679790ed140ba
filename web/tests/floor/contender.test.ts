import { describe, expect, it } from 'vitest';
import { named_by, setting_key } from '../../src/floor/contender';
import { at_hand, next_in_order, switched } from '../../src/floor/order';
import { told_apart } from '../../src/verdict/pairs';
import type { LoggedFlight } from '../../src/floor/flight';

const day = '2026-11-24';
let number = 0;
const flight = (propeller: string, setting?: string, more: Partial<LoggedFlight> = {}): LoggedFlight =>
  ({ id: `f${++number}`, time: `${day}T19:${String(number).padStart(2, '0')}`, propeller, ...(setting ? { setting } : {}), ...more });

describe('two settings', () => {
  it('are one but for how they are written', () => {
    for (const text of ['24°', '24 °', '24 deg', '24,0 Degrees', '24.00\u00a0°']) expect(setting_key(text)).toBe('24°');
    expect(setting_key('240°')).toBe('240°');
    expect(setting_key('24')).not.toBe(setting_key('24°'));
    expect(setting_key(undefined)).toBe('');
  });
  it('of one propeller are two contenders; one alone is the propeller', () => {
    const named = named_by([flight('P18', '24°'), flight('P18', '25 deg'), flight('Q7', '24°'), flight('Q7')]);
    expect(named({ propeller: 'P18', setting: '24.0°' })).toBe('P18 at 24°');
    expect(named({ propeller: 'P18', setting: '25 deg' })).toBe('P18 at 25 deg');
    expect(named({ propeller: 'P18' })).toBeUndefined();
    expect(named({ propeller: 'Q7' })).toBe('Q7');
  });
});

describe('the press for the next flight', () => {
  const log = [flight('P18', '24°'), flight('P18', '25°'), flight('P18', '25°')].reverse();
  it('offers settings of one propeller, and brings the setting', () => {
    const named = named_by(log);
    expect(at_hand(log, 'propeller', 'P18 at 25°', named)).toEqual(['P18 at 24°', 'P18 at 25°']);
    expect(switched(log, 'propeller', 'P18 at 24°', false, named)).toMatchObject({ propeller: 'P18', setting: '24°' });
  });
  it('goes on with the one flown least', () => {
    expect(next_in_order(log, day)).toBe('P18 at 24°');
  });
});

describe('the verdict', () => {
  it('gets each setting as a propeller, and not what tells none', () => {
    const { flights, untold, propeller_of } = told_apart([flight('P18', '24°'), flight('P18'), flight('P18', '25°'), flight('Q7')]);
    expect(flights.map(({ propeller }) => propeller)).toEqual(['P18 at 24°', 'P18 at 25°', 'Q7']);
    expect(untold).toHaveLength(1);
    expect(propeller_of.get('P18 at 25°')).toBe('P18');
  });
});

import { describe, expect, it } from 'vitest';
import type { LoggedMotor, RubberBreaking } from '../../src/api/rubber';
import { breaking_question, winds_question } from '../../src/floor/rubber/batch';
import { left_out_keys, not_counted, why_not, with_left_out } from '../../src/floor/rubber/logged';
import { motor_breaking } from '../../src/floor/rubber/motor';

const broke: LoggedMotor = { key: 'm31', motor: '31', motor_id: 'm31', end: 'broke', turns: 1905, section: '4.264 mm2', length: '368 mm', size_of: 'motor', flight: 'f4', time: '2026-11-26T14:14', winds: 2, usable: true };
const held: LoggedMotor = { ...broke, key: 'm32', motor: '32', end: 'held', turns: 1820, flight: 'f2' };
const unsized: LoggedMotor = { ...broke, key: 'f9', motor: '', motor_id: null, section: null, length: null, size_of: null, usable: false };
const log = [broke, held, unsized];
const breaking = { width: '2.05 mm', length: '368 mm', winds: [{ turns: '1948' }, {}, { turns: '1990', motor: 'No. 31' }] };

describe('the log of a batch', () => {
  it('goes into the question after what was entered, with places of its own', () => {
    const { rows, places, logged } = winds_question(breaking, false, log);
    expect(rows).toEqual([
      { turns: '1948' },
      { turns: '1990', motor: 'No. 31' },
      { turns: 1905, section: '4.264 mm2', length: '368 mm', motor: '31', from_log: true },
      { turns: 1820, section: '4.264 mm2', length: '368 mm', motor: '32', from_log: true, broke: false },
    ]);
    // Row 4 is the empty one that is always there: the log has none of the rows shown.
    expect(places).toEqual([1, 3, 5, 6]);
    expect(logged.map(({ key }) => key)).toEqual(['m31', 'm32']);
    expect(breaking_question({ winds: [] }, log), 'without a motor to wind').toBeNull();
  });

  it('counts for each motor of the batch', () => {
    const batch = { name: 'Box 7', links: {}, section: { breaking: { left_out: ['m32'] } }, curve_csv: '' };
    const asked = motor_breaking({ name: '33', links: {}, section: { motor: { strip_width: '2.05 mm', loop_length: '368 mm' } } }, batch, log);
    expect(asked?.winds).toEqual([{ turns: 1905, section: '4.264 mm2', length: '368 mm', motor: '31', from_log: true }]);
  });

  it('is left out and counted again by the key', () => {
    const out = with_left_out(breaking, 'm31', true);
    expect(left_out_keys(out)).toEqual(['m31']);
    expect(left_out_keys(with_left_out(out, 'm31', true)), 'once').toEqual(['m31']);
    expect(winds_question(out, false, log).logged.map(({ key }) => key)).toEqual(['m32']);
    expect(with_left_out(out, 'm31', false)).toEqual(breaking);
  });

  it('says why a motor does not count', () => {
    const answer = { uncounted: [{ wind: 1, why: 'told_twice' }, { wind: 4, why: 'unbelievable' }] } as RubberBreaking;
    const uncounted = not_counted(answer, 2, [broke, held]);
    expect([...uncounted]).toEqual([['m32', 'unbelievable']]);
    expect(why_not(held, false, uncounted.get('m32'))).toMatch(/^not counted: no motor of its size/);
    expect(why_not(broke, false, uncounted.get('m31'))).toBe('');
    expect(why_not(broke, false, 'told_twice')).toBe('entered by hand too: counted once');
    expect(why_not(broke, true, undefined)).toBe('left out');
    expect(why_not(unsized, false, undefined)).toMatch(/strip and loop are not known/);
    expect(why_not({ ...unsized, turns: null }, false, undefined)).toMatch(/turns is not known/);
  });
});

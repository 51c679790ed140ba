import { describe, expect, it } from 'vitest';
import { batch_question, tests_of, wanting, winds_question } from '../../src/floor/rubber/batch';
import { history_question, motor_breaking, rest_before, winds_of } from '../../src/floor/rubber/motor';
import { csv_of, greatest_of, laid_in, pasted, rows_beyond, rows_of_csv } from '../../src/floor/rubber/rows';
import type { JobTable } from '../../src/api/types';

const rows = [0, 100, 200, 300].map((turns) => ({ turns: String(turns), winding: String(turns / 100), unwinding: String(turns / 100) }));
const test_table: JobTable = { width: '1.55 mm', length: '250 mm', mass: '742 mg', unit: 'g·cm', rows };

describe('the rows of a bench test', () => {
  it('become N m in the unit they were read in, and keep their places', () => {
    const read = csv_of({ unit: 'g·cm', rows: [{ turns: '0', winding: '0', unwinding: '0' }, {}, { turns: '100', winding: '10,5', unwinding: '8' }, { turns: '200', winding: '12' }, { turns: 'x', winding: '1', unwinding: '1' }] });
    expect(read.csv).toBe('turns,torque_winding_Nm,torque_unwinding_Nm\n0,0,0\n100,0.00102969825,0.000784532\n');
    expect(read.places).toEqual([0, 2]);
    expect(read.partial).toEqual([3]);
    expect(read.unread).toEqual([{ row: 4, column: 'turns' }]);
  });

  it('are read on a private scale by its zero and its step', () => {
    const { csv } = csv_of({ meter_torque_Nm: 4e-5, meter_zero: 2, rows: [{ turns: '10', winding: '12', unwinding: '7' }] });
    expect(csv.split('\n')[1]).toBe('10,0.0004,0.0002');
  });

  it('are said to be beyond the calibration past the heaviest weight hung', () => {
    const scale = { meter_torque_Nm: 2.45e-5, meter_zero: 2.99 };
    const test: JobTable = { ...scale, rows: [{ turns: '0', winding: '3', unwinding: '3' }, { turns: '900', winding: '83.5', unwinding: '60' }, { turns: '1000', winding: '106', unwinding: '97' }] };
    const meter: JobTable = { weights: [{ mass: '1 g', reading: '11.2' }, { mass: '10 g', reading: '83.3' }, {}] };
    expect(greatest_of(test, meter)).toBe(83.3);
    expect(rows_beyond(test, 83.3)).toEqual([2]);
    // What was kept with the readings goes before what the meter became; a torque in a unit of torque is on no scale.
    expect(greatest_of({ ...test, meter_greatest: 110 }, meter)).toBe(110);
    expect(greatest_of({ unit: 'mN·m', rows: [] }, meter)).toBeNull();
    expect(rows_beyond(test, null)).toEqual([]);
  });

  it('come out of a spreadsheet with or without headings, in either decimal mark', () => {
    expect(pasted('turns\tup\tdown\n0\t0\t0\n100\t0,5\t0,4\n')).toEqual({ cells: [['0', '0', '0'], ['100', '0,5', '0,4']], passed_over: 1 });
    expect(pasted('100;0,5;0,4').cells).toEqual([['100', '0,5', '0,4']]);
    expect(pasted('0,0,0\n100,0.5,0.4\n').cells).toEqual([['0', '0', '0'], ['100', '0.5', '0.4']]);
    expect(pasted('0 0 0\n100  0.5 0.4').cells).toEqual([['0', '0', '0'], ['100', '0.5', '0.4']]);
    expect(pasted('no rows here').cells).toEqual([]);
  });

  it('are laid in from the cell in hand on, and what would stand outside is dropped', () => {
    expect(laid_in([{ turns: '0' }], 1, 'winding', [['1', '2', '3'], ['4']])).toEqual([{ turns: '0' }, { winding: '1', unwinding: '2' }, { winding: '4' }]);
  });

  it('of a batch that was kept with a job are its first test', () => {
    const csv = 'turns,torque_winding_Nm,torque_unwinding_Nm\n0,0,0\n100,0.0012,0.0011\n';
    expect(rows_of_csv(csv)?.[1]).toEqual({ turns: '100', winding: '1.2', unwinding: '1.1' });
    const tests = tests_of({ name: 'box 3', links: {}, section: { rubber: { name: 'box 3', test_section: '3 mm2', test_length: '250 mm', test_mass: '0.7 g' } }, curve_csv: csv });
    expect(tests).toHaveLength(1);
    expect(tests[0]).toMatchObject({ section: '3 mm2', length: '250 mm', mass: '0.7 g', csv });
  });
});

describe('a batch', () => {
  it('asks of its complete tests only, without what is for the page', () => {
    expect(wanting({ ...test_table, mass: '' })).toEqual(['the mass']);
    expect(wanting({ rows: rows.slice(0, 3) })).toEqual(['the strip width', 'the loop length', 'the mass', '1 more row']);
    const question = batch_question({ name: 'box 7', links: {}, section: { batch: { tests: [{ ...test_table, mass: '' }, test_table, { ...test_table, left_out: true }] } } });
    expect(question?.places).toEqual([2]);
    expect(Object.keys((question?.table.tests as JobTable[])[0]!).sort()).toEqual(['csv', 'length', 'mass', 'width']);
  });

  it('gives its winds their own size where they serve another motor', () => {
    const breaking: JobTable = { width: '2 mm', length: '368 mm', winds: [{ turns: '1900' }, { turns: '' }, { turns: '1300', length: '236 mm', width: '1.5 mm', broke: false }] };
    expect(winds_question(breaking, true)).toEqual({ rows: [{ width: '2 mm', length: '368 mm', turns: '1900' }, { length: '236 mm', turns: '1300', width: '1.5 mm', broke: false }], places: [1, 3], logged: [] });
  });
});

describe('a motor', () => {
  const history: JobTable = { fresh_length: '357 mm', winds: [{ time: '2026-11-20 10:00', turns: '900' }, { time: '2026-11-22', turns: '1500', rest_before: '20 h' }] };
  const flight = { id: 'a', time: '2026-11-21T16:30', turns_wound: 1700, torque_wound_Nm: 0.0024 } as Parameters<typeof winds_of>[1][number];

  it('has the winds of the log among its own in order of time, and the rest between two known times', () => {
    const winds = winds_of(history, [flight, { id: 'b', time: '2026-11-21T17:00' } as typeof flight]);
    expect(winds.map(({ table }) => table.turns)).toEqual(['900', 1700, '1500']);
    expect([0, 1, 2].map((at) => rest_before(winds, at))).toEqual(['', '30.50 h', '20 h']);
    const asked = history_question({ name: '31', links: {}, section: { motor: { strip_width: '2.05 mm', loop_length: '368 mm' }, history } }, winds);
    expect(asked?.table).toMatchObject({ width: '2.05 mm', fresh_length: '357 mm', rested_length: '368 mm' });
    expect((asked?.table.winds as JobTable[])[1]).toEqual({ turns: 1700, torque: '2.4 mN.m', rest_before: '30.50 h' });
  });

  it('is wound as far as its batch allows, the motors that held among those that broke', () => {
    const batch = { name: 'box 7', links: {}, section: { breaking: { width: '2 mm', length: '368 mm', winds: [{ turns: '1905' }, { turns: '1850', broke: false }] } } };
    const asked = motor_breaking({ name: '31', links: {}, section: { motor: { strip_width: '2.05 mm', loop_length: '368 mm' }, history } }, batch);
    expect(asked).toEqual({ width: '2.05 mm', length: '368 mm', winds: [{ width: '2 mm', length: '368 mm', turns: '1905' }, { width: '2 mm', length: '368 mm', turns: '1850', broke: false }] });
  });

  it('asks nothing before its strip is known', () => {
    expect(history_question({ name: '31', links: {}, section: { motor: { loop_length: '368 mm' } } }, [])).toBeNull();
  });
});

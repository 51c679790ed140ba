import { describe, expect, it } from 'vitest';
import { read_table } from '../../src/floor/csv';
import { day_words, order_of, read_date, stroked_dates, time_of_day } from '../../src/floor/dates';
import { mapped } from '../../src/floor/mapping';
import { questions } from '../../src/floor/questions';
import { guessed, usual } from '../../src/floor/targets';

const guess = (text: string, liking = usual) => {
  const table = read_table(text)!;
  return guessed(table.head, table.rows, liking);
};

describe('dates of an old log', () => {
  it('are read year first, with dots day first, and in words', () => {
    expect(read_date('2026-11-21 14:05', 'day')).toBe('2026-11-21T14:05');
    expect(read_date('2026-11-21T14:05:30', 'month')).toBe('2026-11-21T14:05:30');
    for (const order of ['day', 'month'] as const) {
      expect(read_date('21.11.2026 14:05', order)).toBe('2026-11-21T14:05');
      expect(read_date('3.4.26', order)).toBe('2026-04-03');
      expect(read_date('3 April 2026, 2:05 pm', order)).toBe('2026-04-03T14:05');
      expect(read_date('Apr 3, 2026', order)).toBe('2026-04-03');
    }
  });

  it('with strokes are read as the builder says', () => {
    expect([read_date('03/04/2026', 'day'), read_date('03/04/2026', 'month')]).toEqual(['2026-04-03', '2026-03-04']);
    expect(read_date('11/21/2026 9:30', 'month')).toBe('2026-11-21T09:30');
    expect(day_words('2026-04-03T14:05')).toBe('3\u00a0April 2026, 14:05');
  });

  it('are month first by themselves only where none can be day first', () => {
    expect(order_of(['11/09/2026', '11/21/2026'])).toBe('month');
    expect(order_of(['03/04/2026', '05/06/2026'])).toBe('day');
    expect(order_of(['21/11/2026', '11/21/2026'])).toBe('day');
    expect(stroked_dates(['21.11.2026', '2026-11-21', '03/04/2026'])).toEqual(['03/04/2026']);
  });

  it('that are in no calendar are refused', () => {
    for (const cell of ['31.11.2026', '2026-13-01', '11/21/2026', '2 Nov', '21.11.2026 25:00', 'soon']) expect(read_date(cell, 'day')).toBeUndefined();
    expect(time_of_day('7:75')).toBeUndefined();
  });
});

describe('headings of an old log', () => {
  it('are guessed by the words builders use, and by what stands under them', () => {
    expect(guess('Date;Flight;Winds;Prop;Motor;Launch torque;Height\n21.11.2026 14:05;7:27;1,820;P9;no 3;2.0;7.9\n')).toEqual(
      ['time', 'duration_s', 'turns_wound', 'propeller', 'motor', 'launch_torque_Nm mN·m', 'top_height_m m']);
    expect(guess('Dur\n7:27\n')).toEqual(['duration_s']);
    expect(guess('Turns wound,Duration,Propeller\n1820,447,P9\n')).toEqual(['turns_wound', 'duration_s', 'propeller']);
    expect(guess('what,how long\n21.11.2026,7:27.5\n22.11.2026,8:01\n')).toEqual(['time', 'duration_s']);
  });

  it('that only count the flights are left out', () => {
    expect(guess('Flight,Time\n1,7:27\n2,8:01\n')).toEqual(['', 'duration_s']);
  });

  it('tell the time of day from the time flown', () => {
    expect(guess('Date,Time,Duration\n2026-11-21,14:05,7:27\n')).toEqual(['time', 'time_of_day', 'duration_s']);
    expect(guess('Date,Time\n2026-11-21,7:27\n')).toEqual(['time', 'duration_s']);
  });

  it('without a unit get the builder\'s own; humidity by its size', () => {
    expect(guess('Launch torque,Height,Temp,Humidity\n0.3,25,68,50\n', { profile: 'inch', torque_unit: 'in-oz' })).toEqual(
      ['launch_torque_Nm in-oz', 'top_height_m ft', 'temperature_K °F', 'humidity %']);
    expect(guess('Humidity\n0.5\n')).toEqual(['humidity 0 to 1']);
  });
});

describe('an old log', () => {
  it('keeps the order it was flown in, thousands and units as written', () => {
    const table = read_table('Date;Time;Flight;Winds;Prop;Temp °C;Height\n21.11.2026;14:05;7:27;1,820;A;68 degF;26 ft\n21.11.2026;14:35;7:39;1 830;B;17;7.9\n')!;
    const { flights, not_understood } = mapped(table, guessed(table.head, table.rows));
    expect(not_understood).toEqual([]);
    expect(flights.map(({ time, duration_s, turns_wound, propeller }) => [time, duration_s, turns_wound, propeller])).toEqual(
      [['2026-11-21T14:05', 447, 1820, 'A'], ['2026-11-21T14:35', 459, 1830, 'B']]);
    expect(flights[0]!.temperature_K).toBeCloseTo(293.15, 9);
    expect(flights[0]!.top_height_m).toBeCloseTo(7.9248, 9);
  });

  it('tells what could be two things, and what can hardly be', () => {
    const table = read_table('Date,Winds,Left,Duration\n03/04/2026,"1,82",45,5:30\n03/05/2026,1670,2000,5:19\n')!;
    const keys = guessed(table.head, table.rows);
    const { flights, not_understood } = mapped(table, keys, 1, 'month');
    expect(not_understood).toEqual(['line 2, Winds: 1,82']);
    expect(flights.map(({ time }) => time)).toEqual(['2026-03-04', '2026-03-05']);
    expect(flights.map((flight) => questions(flight).filter(({ drops }) => drops).map(({ column }) => column))).toEqual([[], ['turns_left']]);
  });
});

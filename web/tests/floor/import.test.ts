import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { read_table } from '../../src/floor/csv';
import { ahead, as_either, day_words, order_of, read_date, stroked_dates, time_of_day } from '../../src/floor/dates';
import { as_taken, correcting } from '../../src/floor/imports';
import { dotted_times, doubles, mapped } from '../../src/floor/mapping';
import { questions } from '../../src/floor/questions';
import { guessed, usual } from '../../src/floor/targets';
import { ratio_words, read, scale_of } from '../../src/floor/units';

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

  it('typed with strokes are both days that they may be', () => {
    expect(as_either('11/02/2026 19:30')).toEqual(['2026-02-11T19:30', '2026-11-02T19:30']);
    expect(['21/11/2026', '11.02.2026', '2026-11-02', '11/11/2026', ''].map(as_either)).toEqual(Array(5).fill(null));
  });

  it('ahead of the clock are told, beyond what zones explain', () => {
    const now = new Date(2026, 10, 26, 20, 0).getTime();
    expect(['2027-11-12', '2026-11-29T09:00'].map((time) => ahead(time, now))).toEqual([true, true]);
    expect(['2026-11-26', '2026-11-27T01:00', '2025-01-01'].map((time) => ahead(time, now))).toEqual([false, false, false]);
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

describe('lines that begin with #', () => {
  const rows = (text: string) => read_table(text)!;

  it('above the headings are remarks, also with commas in them, and are told', () => {
    const table = rows('# winter, first half\n\n#Hall: old\nProp,Time\nP9,5:30\n');
    expect([table.head, table.rows.length, table.rows[0]!.line, table.passed_over]).toEqual([['Prop', 'Time'], 1, 5, [1, 3]]);
  });

  it('may head a column of numbers', () => {
    const table = rows('#,Date,Prop,Time\n1,2026-11-02,P9,5:30\n2,2026-11-02,P8,5:40\n');
    expect([table.head, table.rows.length, table.passed_over]).toEqual([['#', 'Date', 'Prop', 'Time'], 2, []]);
  });

  it('below the headings are rows where they have cells, remarks where they have none', () => {
    const table = rows('Prop,Time\n#3,5:30\n# lunch\n"#4",5:40\n');
    expect(table.rows.map(({ cells }) => cells[0])).toEqual(['#3', '#4']);
    expect(table.passed_over).toEqual([3]);
  });

  it('in the flight log file are remarks everywhere, as it says', () => {
    const table = rows('propeller,duration_s\n# calm, cold\nP9,330\n"#4",340\n');
    expect([table.rows.map(({ cells }) => cells[0]), table.passed_over]).toEqual([['P9', '#4'], [2]]);
  });
});

describe('the unit of a column', () => {
  const inch = { profile: 'inch', torque_unit: 'in-oz' } as const;

  it('is the one its heading names, whatever is usual', () => {
    const row = ';8;16;12;9;1010;0.55\n';
    for (const [height, warmth, torque, roof] of [['Height m', 'Temp °C', 'Torque g·cm', 'Roof m'], ['Height (m)', 'Temperature (°C)', 'Torque, g·cm', 'Ceiling in metres']]) {
      const head = `Prop;${height};${warmth};${torque};${roof};Pressure hPa;humidity\n`;
      expect(guess(`${head}P9${row}`, inch)).toEqual(['propeller', 'top_height_m m', 'temperature_K °C', 'torque_wound_Nm g·cm', 'roof_m m', 'pressure_Pa hPa', 'humidity 0 to 1']);
    }
    expect(guess('Prop,Height ft,Temp F\nP9,26,61\n')).toEqual(['propeller', 'top_height_m ft', 'temperature_K °F']);
    expect(guess('Prop,Height,Temp\nP9,26,61\n', inch)).toEqual(['propeller', 'top_height_m ft', 'temperature_K °F']);
    expect(guess('Prop,torque mN·m\nP9,2\n', { profile: 'metric', torque_unit: 'g·cm' })).toEqual(['propeller', 'torque_wound_Nm mN·m']);
  });

  it('is that of most of what stands under it', () => {
    expect(guess('Prop,humidity\nP9,0.55\nP9,0.52\nP9,55\n')[1]).toBe('humidity 0 to 1');
    expect(guess('Prop,humidity\nP9,55\nP9,52\nP9,0.55\n')[1]).toBe('humidity %');
  });

  it('leaves the place of a thing to the heading that is its own name', () => {
    expect(guess('Height [m],propeller,top_height_m\n8,P9,7.5\n')).toEqual(['', 'propeller', 'top_height_m m']);
  });
});

describe('cells beside the table', () => {
  it('are told', () => {
    const table = read_table('Prop,Time\nP9,330,extra,cells\n')!;
    expect(mapped(table, guessed(table.head, table.rows)).not_understood).toEqual(['line 2, more cells than headings: extra, cells']);
  });
});

describe('what could be two things in an old log', () => {
  it('is left unknown until somebody says: 7.27 is no time by itself', () => {
    const table = read_table('Date,Flight time\n2.11.26,7.27\n3.11.26,8.01\n')!;
    const keys = guessed(table.head, table.rows);
    expect(keys).toEqual(['time', 'duration_s']);
    expect(dotted_times(table, keys)).toEqual(['7.27', '8.01']);
    const asked = mapped(table, keys);
    expect(asked.flights.map(({ duration_s }) => duration_s)).toEqual([undefined, undefined]);
    expect(asked.not_understood[0]).toBe('line 2, Flight time: 7.27 is 7:27 or 7.27\u00a0s');
    expect(mapped(table, keys, 1, 'day', 'minutes').flights.map(({ duration_s }) => duration_s)).toEqual([447, 481]);
    expect(mapped(table, keys, 1, 'day', 'seconds').flights.map(({ duration_s }) => duration_s)).toEqual([7.27, 8.01]);
  });

  it('is none where the heading says seconds', () => {
    for (const title of ['duration_s', 'Time (s)', 'time, s', 'seconds']) {
      const table = read_table(`No;Prop;${title}\n1;P9;48.27\n`)!;
      expect(mapped(table, ['', 'propeller', 'duration_s']).flights[0]!.duration_s).toBe(48.27);
    }
  });

  it('has one rule for thousands, in the flight log file too', () => {
    const table = read_table('time,turns_wound,turns_left,duration_s\n2026-11-02,"1,820",879.375,330\n')!;
    expect(mapped(table, guessed(table.head)).flights[0]).toMatchObject({ turns_wound: 1820, turns_left: 879.375, duration_s: 330 });
  });

  it('is no ratio of a winder: what is not understood is said', () => {
    const ratio = (text: string) => read(text, scale_of('ratio', 'metric', 'mN·m'));
    expect(['15', '15:1', '7,5', '7.5 : 1'].map(ratio)).toEqual([15, 15, 7.5, 7.5]);
    expect(['1/15', 'fast', ': 1'].map(ratio)).toEqual([undefined, undefined, undefined]);
    expect([ratio_words(7.5), ratio_words(15)]).toEqual(['7.5 : 1', '15 : 1']);
  });
});

describe('the same old log taken in again', () => {
  const table = read_table('Date,Prop,Winds,Temp,Time\n2026-11-02,P9,120,68,5:30\n2026-11-02,P8,121,68,5:40\n')!;
  const first = mapped(table, guessed(table.head, table.rows), 1).flights;
  const second = mapped(table, guessed(table.head, table.rows, { profile: 'inch', torque_unit: 'in-oz' }), 15).flights;
  const here = first.map((flight) => ({ flight, state: 'kept' as const, base: 1 }));

  it('with another meaning of its columns has the same flights, which are corrected', () => {
    expect(second.map(({ id }) => id)).toEqual(first.map(({ id }) => id));
    expect(second[0]!.turns_wound).toBe(1800);
    expect(correcting(here, second, as_taken(first))).toEqual(second.map((flight, at) => ({ flight, base: 1, taken: first[at] })));
    expect(correcting(here, first, as_taken(first))).toEqual([]);
  });

  it('does not write over what was put right by hand since', () => {
    const [a, b] = here;
    const by_hand = [{ ...a!, flight: { ...a!.flight, notes: 'the knot slipped' }, base: 2 }, b!];
    expect(correcting(by_hand, second, as_taken(first)).map(({ flight }) => flight.propeller)).toEqual(['P8']);
    // Taken in by another browser: the first revision is as it came.
    expect(correcting(by_hand, second, {}).map(({ flight }) => flight.propeller)).toEqual(['P8']);
  });

  it('from elsewhere, under other ids, is told', () => {
    const other = first.map((flight) => ({ ...flight, id: `x${flight.id}` }));
    expect(doubles(second, other)).toBe(2);
    expect(doubles(second, first)).toBe(0);
    expect(doubles(second.map(({ duration_s: _, ...flight }) => flight), other)).toBe(0);
  });
});

describe('the ids of rows', () => {
  const { cases } = JSON.parse(readFileSync('../tests/logbook/row_ids.json', 'utf8')) as { cases: { what: string; csv: string; ids: string[] }[] };

  it.each(cases)('are those that the command gives: $what', ({ csv, ids }) => {
    const table = read_table(csv)!;
    expect(mapped(table, guessed(table.head, table.rows)).flights.map(({ id }) => id)).toEqual(ids);
  });

  it('do not change with what the columns are taken for', () => {
    const { csv, ids } = cases[1]!;
    expect(mapped(read_table(csv)!, ['', '', '', ''], 15).flights.map(({ id }) => id)).toEqual(ids);
  });
});

describe('turns backed off', () => {
  const read = (text: string) => {
    const table = read_table(text)!;
    const { flights, not_understood } = mapped(table, guessed(table.head, table.rows));
    return { flight: flights[0]!, not_understood };
  };

  it('of which nobody knows from how many stand in the notes and are told', () => {
    const { flight, not_understood } = read('propeller,turns_backed_off,notes\nP9,120,calm\n');
    expect(flight).toMatchObject({ notes: 'calm; turns backed off 120, turns wound not known' });
    expect(not_understood).toEqual(['line 2: 120 turns backed off, of how many is not known; they stand in the notes']);
  });

  it('tell of the turns wound and those at launch the other', () => {
    expect(read('propeller,turns_wound,turns_backed_off\nP9,1500,120\n').flight.turns_at_launch).toBe(1380);
    const table = read_table('propeller,turns_at_launch,turns_backed_off\nP9,1380,120\n')!;
    expect(mapped(table, ['propeller', 'turns_at_launch', 'turns_backed_off']).flights[0]).toMatchObject({ turns_wound: 1500, turns_at_launch: 1380 });
  });
});

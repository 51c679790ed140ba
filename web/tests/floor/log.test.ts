import { describe, expect, it } from 'vitest';
import { read_json, read_table, write_csv } from '../../src/floor/csv';
import { blank, next_after, row_of, taken_back, top_share, with_top } from '../../src/floor/draft';
import { flags_of, local_time, new_id, same_flight, tidy, type LoggedFlight } from '../../src/floor/flight';
import { mapped } from '../../src/floor/mapping';
import { answered, read_row, take_in } from '../../src/floor/merge';
import { questions, without_questioned } from '../../src/floor/questions';
import { page_with } from '../../src/floor/saved_page';
import { guessed } from '../../src/floor/targets';
import { at_rest, landed, launched, topped } from '../../src/floor/stopwatch';
import { read, scale_of, shown } from '../../src/floor/units';

const flight: LoggedFlight = {
  id: 'f1', time: '2026-11-21T14:05:00', propeller: 'P14', motor: '23', turns_wound: 1960, turns_at_launch: 1790, turns_left: 281,
  launch_torque_Nm: 0.0012, duration_s: 768.6, top_height_m: 7.9, touches: 1, steers: 2, roof_m: 8.5, flag: 'steered', notes: 'said "good", twice',
};

describe('a flight in hand', () => {
  it('makes the row of the log: turns at launch from those backed off, height from the share of the roof, the flag from the steers', () => {
    const watch = landed(topped(launched(1_000_000), 1_300_000), 1_768_640);
    const row = row_of({ ...blank('f9'), watch, turns_wound: 1960, turns_out: 170, turns_left: 281, top_fraction: 0.93, steers: 2, carried: { propeller: 'P14', roof_m: 8.5 } }, 2_000_000);
    expect(row).toEqual({
      id: 'f9', time: local_time(1_000_000), propeller: 'P14', turns_wound: 1960, turns_at_launch: 1790, turns_left: 281, duration_s: 768.6,
      top_height_m: 7.91, top_time_s: 300, touches: 0, steers: 2, roof_m: 8.5, flag: 'steered',
    });
  });

  it('notes the share of a roof whose height nobody knows', () => {
    expect(row_of({ ...blank('f9'), top_fraction: 0.5 }, 0)).toMatchObject({ notes: 'topped out at 50 % of the roof' });
  });

  it('begins as the last one was set up; what happened in the air and the turns left are not carried over', () => {
    const next = next_after({ ...flight, wind_number: 4 }, 'f2', '2026-11-21');
    expect([next.turns_wound, next.turns_out, next.turns_left, next.steers, next.watch]).toEqual([1960, 170, null, 0, at_rest]);
    expect(next.carried).toMatchObject({ propeller: 'P14', motor: '23', roof_m: 8.5, wind_number: 5 });
    expect(next.hints).toEqual({ launch_torque_Nm: 0.0012 });
    for (const name of ['notes', 'launch_torque_Nm']) expect(next.carried).not.toHaveProperty(name);
  });

  it('that was taken back and kept unchanged is the same flight', () => {
    const odd: Partial<LoggedFlight>[] = [
      flight, { ...flight, roof_m: undefined, flag: 'aborted;hang_up', steers: 0 }, { ...flight, touches: 0, steers: 0, flag: undefined },
      { id: 'a', duration_s: 300.27, flag: 'steered' }, { id: 'a', turns_at_launch: 1500, turns_left: 100 }, { id: 'a', top_height_m: 7.34568, roof_m: 8.5344 },
      { id: 'a', top_height_m: 9, roof_m: 8.5 }, { id: 'a', turns_wound: 879.6, turns_at_launch: 806.3 }, { id: 'a', flag: 'aborted;knocked' },
    ];
    for (const each of odd) expect(row_of(taken_back(tidy(each), 3, at_rest), 5)).toEqual(tidy(each));
  });

  it('that was taken back changes only where something is entered', () => {
    const back = taken_back(tidy({ id: 'a', turns_at_launch: 1500, top_height_m: 7.35, roof_m: 8.5, flag: 'steered' }), 3, at_rest);
    expect(row_of({ ...back, turns_wound: 1700 }, 5)).toMatchObject({ turns_wound: 1700, turns_at_launch: 1500 });
    expect(row_of({ ...back, carried: { ...back.carried, roof_m: 9 } }, 5)).toMatchObject({ top_height_m: 7.35, roof_m: 9 });
    expect(top_share(back)).toBeCloseTo(7.35 / 8.5, 12);
    expect(row_of({ ...back, ...with_top(back, 0.5) }, 5)).toMatchObject({ top_height_m: 4.25 });
    expect(row_of({ ...back, ...with_top(back, null) }, 5)).not.toHaveProperty('top_height_m');
    expect(row_of({ ...back, aborted: true, touches: 1 }, 5)).toMatchObject({ flag: 'aborted;steered', touches: 1 });
  });

  it('has an id of its own that the workshop takes', () => {
    const ids = Array.from({ length: 200 }, () => new_id(1_790_000_000_000));
    expect(new Set(ids).size).toBe(200);
    for (const id of ids) expect(id).toMatch(/^[a-z0-9_-]{1,64}$/);
  });
});

describe('questions', () => {
  const asked = (change: Partial<LoggedFlight>) => questions(tidy({ ...flight, ...change })).map(({ column }) => column);

  it('are not asked of a flight that can be', () => {
    expect(asked({})).toEqual([]);
  });

  it('are asked of turns, torques, times and heights that cannot be', () => {
    expect(asked({ turns_left: 1900 })).toEqual(['turns_left']);
    expect(asked({ turns_at_launch: 2000 })).toEqual(['turns_at_launch']);
    expect(asked({ torque_wound_Nm: 0.001 })).toEqual(['launch_torque_Nm']);
    expect(asked({ duration_s: 12.8 })).toEqual(['duration_s']);
    expect(asked({ duration_s: 9000 })).toEqual(['duration_s']);
    expect(asked({ duration_s: 3700, motor_part: 0.5 })).toEqual(['duration_s']);
    expect(asked({ duration_s: 3500, motor_part: 0.5 })).toEqual([]);
    expect(asked({ top_height_m: 9 })).toEqual(['top_height_m']);
    expect(asked({ top_time_s: 800 })).toEqual(['top_time_s']);
    expect(asked({ motor: '' })).toEqual(['motor']);
  });

  it('leave what is not believed unknown, and note what stood there', () => {
    const kept = without_questioned({ ...flight, turns_left: 1900, motor: undefined } as LoggedFlight);
    expect(kept.turns_left).toBeUndefined();
    expect(kept.notes).toBe('said "good", twice; turns left noted as 1900, not believed');
    expect(questions(kept).map(({ drops }) => drops)).toEqual([false]);
  });
});

describe('files', () => {
  it('come back as the same flights, from CSV and from JSON', () => {
    const both = [flight, tidy({ id: 'f2', propeller: 'P15', duration_s: 700, notes: '# not a remark; a, b' })];
    const table = read_table(write_csv(both))!;
    const found = mapped(table, guessed(table.head));
    expect(found).toEqual({ flights: both, not_understood: [] });
    expect(read_json(JSON.stringify({ flights: both }))).toEqual({ flights: both, not_understood: [] });
  });

  it('keep line breaks, and spaces at the ends of words', () => {
    const odd = [tidy({ id: 'f1', propeller: ' P14', duration_s: 700, notes: '  two lines:\n"calm"; then\r\n# drift \t' }), tidy({ id: 'f2', duration_s: 1, reason: '\n', notes: '""' })];
    const table = read_table(write_csv(odd))!;
    expect(mapped(table, guessed(table.head, table.rows))).toEqual({ flights: odd, not_understood: [] });
  });

  it('with unknown members tell them and leave them out', () => {
    const found = read_json('[{"id":"f1","duration_s":"12:48","colour":"red"},7]')!;
    expect(found.flights).toEqual([{ id: 'f1' }]);
    expect(found.not_understood).toEqual(['entry 1, duration_s: "12:48"', 'entry 1, colour: "red"', 'entry 2: this is no flight']);
    expect(read_json('a,b\n1,2')).toBeNull();
  });

  it('of another hand are read by their headings, in their own units, and what is not understood is told by its line', () => {
    const table = read_table('# winter\nDate;Prop;Turns in;Turns out;Left;Launch torque (in-oz);Time;Temp °F;Peak ft\n2025-11-02;P9;85;12;15;0.25;5:30;68;21\n\n3 Nov;P9;121;20;45;much;319;;\n')!;
    const { flights, not_understood } = mapped(table, guessed(table.head), 15);
    expect(flights[0]).toMatchObject({ time: '2025-11-02', propeller: 'P9', turns_wound: 1275, turns_at_launch: 1095, turns_left: 225, duration_s: 330 });
    expect(flights[0]!.temperature_K).toBeCloseTo(293.15, 9);
    expect(flights[0]!.top_height_m).toBeCloseTo(6.4008, 9);
    // 1 in-oz is 0.0070616 N·m.
    expect(flights[0]!.launch_torque_Nm).toBeCloseTo(0.25 * 0.00706155, 8);
    expect(not_understood).toEqual(['line 5, Date: 3 Nov', 'line 5, Launch torque (in-oz): much']);
    expect(mapped(table, guessed(table.head), 15).flights.map(({ id }) => id)).toEqual(flights.map(({ id }) => id));
  });

  it('with two rows alike are two flights, each with its own id', () => {
    const table = read_table('propeller,duration_s\nP9,330\nP9,330\n')!;
    const ids = mapped(table, guessed(table.head)).flights.map(({ id }) => id);
    expect(new Set(ids).size).toBe(2);
  });
});

describe('two logs become one', () => {
  const kept = { flight, state: 'kept' as const, base: 4 };

  it('with nothing twice, and what differs sent for the workshop to show', () => {
    const report = take_in([kept], [flight, { ...flight, notes: 'other' }, tidy({ id: 'f2', duration_s: 700 }), tidy({ id: 'f2', duration_s: 700 })]);
    expect([report.added, report.same, report.differing]).toEqual([1, 2, 1]);
    expect(report.entries.map(({ base }) => base)).toEqual([null, null]);
  });

  it('an answer for a flight that was changed meanwhile leaves it waiting, with the revision to change', () => {
    const now = { flight: { ...flight, touches: 3 }, state: 'waiting' as const, base: null };
    expect(answered(now, flight, { id: 'f1', done: 'added', revision: 1, questions: [] })).toMatchObject({ state: 'waiting', base: 1 });
    expect(answered({ ...now, flight }, flight, { id: 'f1', done: 'same', revision: 1, questions: [] })).toMatchObject({ state: 'kept', base: 1 });
  });

  it('what waits here is not overwritten by what is read', () => {
    const row = { revision: 9, updated_at: '', flight: { ...flight, notes: 'theirs' } };
    expect(read_row({ flight, state: 'waiting', base: 4 }, row)).toBeNull();
    expect(read_row(kept, row)).toMatchObject({ state: 'kept', base: 9 });
    expect(read_row(kept, { ...row, revision: 4 })).toBeNull();
    expect(same_flight(read_row(undefined, row)!.flight, row.flight)).toBe(true);
  });

  it('flags are read from one text', () => {
    expect(flags_of({ ...flight, flag: 'aborted;steered' })).toEqual(['aborted', 'steered']);
  });
});

describe('the page taken to the hall', () => {
  it('carries what it takes along without ending its own element', () => {
    const taken = { made_at: '', profile: 'metric' as const, torque_unit: 'mN·m' as const, winder_ratio: 1, meter: null, card: null, air: {}, names: { propellers: ['</script><b>$&'], motors: [] }, flights: [] };
    const page = page_with('<script type="application/json" id="taken-along">null</script>', taken);
    const inside = /id="taken-along">([^<]*)<\/script>$/.exec(page)![1]!;
    expect(JSON.parse(inside)).toEqual(taken);
    expect(() => page_with('<p>', taken)).toThrow();
  });
});

describe('numbers typed in the hall', () => {
  it('go to SI and back in every unit', () => {
    const cases = [['temperature', 'metric', '16', 289.15], ['temperature', 'inch', '68', 293.15], ['torque', 'metric', '1.2', 0.0012], ['pressure', 'metric', '1008', 100800], ['humidity', 'inch', '45', 0.45], ['height', 'inch', '22', 6.7056]] as const;
    for (const [measure, profile, text, si] of cases) {
      const scale = scale_of(measure, profile, 'mN·m');
      expect(read(text, scale)).toBeCloseTo(si, 9);
      expect(shown(si, scale)).toBe(text);
    }
    expect(read('', scale_of('torque', 'metric', 'g·cm'))).toBeNull();
    expect(read('much', scale_of('torque', 'metric', 'g·cm'))).toBeUndefined();
  });
});

import { describe, expect, it } from 'vitest';
import { after_break, blank, crank_turns, next_after, of_day, with_motor_of, row_of, taken_back, type Draft } from '../../src/floor/draft';
import { tidy, type LoggedFlight } from '../../src/floor/flight';
import { by_time, flown_on, in_order_flown, numbers_in_day } from '../../src/floor/merge';
import { at_hand, next_in_order, switched } from '../../src/floor/order';
import { kept_row, questions, questions_of } from '../../src/floor/questions';
import { at_rest, landed, launched } from '../../src/floor/stopwatch';
import { how_to_write, read, scale_of, shown, type Measure } from '../../src/floor/units';

const draft = (change: Partial<Draft>): Draft => ({ ...blank('f1'), turns_wound: 1820, turns_out: 150, turns_left: 240, carried: { propeller: 'L46-A', motor: '7' }, ...change });
const kept = (change: Partial<Draft>): LoggedFlight => {
  const hand = draft(change);
  return kept_row(hand, row_of(hand, 1_000_000));
};

describe('what was typed and not understood', () => {
  it('is unknown when the flight is kept, not what stood there before; the text stands in the notes', () => {
    const row = kept({ duration_s: 490, unread: { duration_s: '12:48:6' }, carried: { propeller: 'L46-A', motor: '7', notes: 'calm' } });
    expect(row.duration_s).toBeUndefined();
    expect(row.notes).toBe('calm; time flown noted as "12:48:6", not understood');
  });

  it('is asked at once, so that the button tells it, and only once a column', () => {
    const hand = draft({ duration_s: 490, unread: { duration_s: '5:75', turns_wound: 'abc' } });
    const asked = questions_of(hand, row_of(hand, 0));
    expect(asked.filter(({ drops }) => drops).map(({ column }) => column)).toEqual(['duration_s', 'turns_wound']);
    expect(asked.map(({ column }) => column)).toEqual([...new Set(asked.map(({ column }) => column))]);
    expect(asked[0]!.words).toBe('time flown, "5:75" is not understood');
  });

  it('keeps the reading of the watch in the notes when another was typed badly', () => {
    const row = kept({ watch: landed(launched(1_000_000), 1_767_900), unread: { duration_s: '-5' } });
    expect(row.notes).toBe('time flown noted as "-5", not understood; the watch said 12:47.9');
  });

  it('of turns backed off leaves no turns at launch: they would be taken for all that were wound', () => {
    const row = kept({ duration_s: 490, unread: { turns_out: 'some' } });
    expect([row.turns_wound, row.turns_at_launch, row.turns_left]).toEqual([undefined, undefined, 240]);
    expect(row.notes).toBe('turns backed off noted as "some", not understood; 1820 turns wound');
  });
});

describe('a time that two clocks tell differently', () => {
  const both = { watch: landed(launched(1_000_000), 1_308_000), counted_s: 301 };

  it('is asked, and unknown until it is answered; the notes have both', () => {
    const hand = draft(both);
    expect(questions_of(hand, row_of(hand, 0)).find(({ column }) => column === 'duration_s')?.words).toMatch(/says 5:08\.0, the page counted 5:01\.0/);
    const row = kept(both);
    expect(row.duration_s).toBeUndefined();
    expect(row.notes).toBe("time flown 5:08.0 by the clock, 5:01.0 by the page's own count");
    expect(kept({ ...both, duration_s: 301 })).toMatchObject({ duration_s: 301 });
    expect(kept({ ...both, duration_s: 301 }).notes).toBeUndefined();
  });
});

describe('turns typed for the motor', () => {
  it('that are those of the crank are asked', () => {
    expect(crank_turns(182, 10, 1820)).toBe(1820);
    expect(crank_turns(1820, 10, 1820)).toBeNull();
    expect(crank_turns(182, 1, 1820)).toBeNull();
    expect(crank_turns(182, 10, 190)).toBeNull();
    expect([crank_turns(120, 15, null), crank_turns(900, 15, null), crank_turns(null, 15, null)]).toEqual([1800, null, null]);
  });
});

describe('a motor that broke', () => {
  it('takes its name, its cut and its winding along; when it did not break they come back', () => {
    const before = draft({ carried: { motor: '3', batch: 'b7', wind_number: 4, motor_mass_kg: 0.00147, motor_length_m: 0.368, motor_part: 0.5, propeller: 'A' } });
    expect(after_break(before).carried).toEqual({ batch: 'b7', propeller: 'A' });
    expect(with_motor_of(before, after_break(before)).carried).toEqual(before.carried);
  });
});

describe('a flight without a date', () => {
  it('does not become one of now when something else in it is put right', () => {
    const row = row_of({ ...taken_back({ id: 'u1', propeller: 'A', duration_s: 447 }, 1, at_rest), touches: 1 }, 1_790_000_000_000);
    expect(row).toEqual({ id: 'u1', propeller: 'A', duration_s: 447, touches: 1 });
  });
});

describe('a new flight', () => {
  const last: LoggedFlight = { id: 'f0', time: '2026-11-21T20:10:00', session: 'Club night', propeller: 'P14', motor: '23', roof_m: 8.5, temperature_K: 290.15, humidity: 0.5, pressure_Pa: 100800, launch_torque_Nm: 0.002 };
  const of_the_day = ['session', 'roof_m', 'temperature_K', 'humidity', 'pressure_Pa'] as const;

  it('of the same day has the air, the roof and the visit of the last', () => {
    const next = next_after(last, 'f1', '2026-11-21');
    for (const name of of_the_day) expect(next.carried[name]).toBe(last[name]);
  });

  it('of another day has none of them, but is set up the same', () => {
    const next = next_after(last, 'f1', '2026-11-22');
    for (const name of of_the_day) expect(next.carried).not.toHaveProperty(name);
    // A torque of the last flight was not read in this one: a hint, and no column of it.
    expect(next.carried).toEqual({ propeller: 'P14', motor: '23' });
    expect(next.hints).toEqual({ launch_torque_Nm: 0.002 });
    expect(row_of(next, 1_790_000_000_000)).not.toHaveProperty('launch_torque_Nm');
    expect(of_day(next_after(last, 'f1', '2026-11-21'), '2026-11-22')).toEqual(next);
  });
});

describe('numbers as builders type them', () => {
  const typed = (text: string, measure: Measure) => read(text, scale_of(measure, 'metric', 'mN·m'));

  it('have thousands parted by a comma or a space', () => {
    for (const text of ['1,820', '1 820', '1\u00a0820', "1'820", '1820', '1820 turns']) expect(typed(text, 'turns')).toBe(1820);
    expect(typed('85,5', 'turns')).toBe(85.5);
    expect(typed('1,013', 'pressure')).toBe(101300);
    expect(typed('0,45', 'torque')).toBeCloseTo(0.00045, 12);
  });

  it('that can be read in two ways are asked', () => {
    for (const text of ['1,82', '1.820', '12,34', '-5', 'abc']) expect(typed(text, 'turns')).toBeUndefined();
    expect(how_to_write('1,82', scale_of('turns', 'metric', 'mN·m'))).toBe('1,82 can be read in two ways: write 182, if that is meant');
  });

  it('bring their own unit, where it is of the kind of the field', () => {
    expect(typed('68 degF', 'temperature')).toBeCloseTo(293.15, 9);
    expect(typed('68°F', 'temperature')).toBeCloseTo(293.15, 9);
    expect(typed('17 °C', 'temperature')).toBeCloseTo(290.15, 9);
    expect(typed('28 ft', 'height')).toBeCloseTo(8.5344, 9);
    expect(typed('27 ft 10 in', 'height')).toBeCloseTo(8.4836, 9);
    expect(typed('335 in', 'height')).toBeCloseTo(8.509, 9);
    expect(typed('0.3 in-oz', 'torque')).toBeCloseTo(0.3 * 0.00706155, 12);
    expect(typed('0.3 in·oz', 'torque')).toBe(typed('0.3 in-oz', 'torque'));
    expect(typed('20 g·cm', 'torque')).toBeCloseTo(0.00196133, 9);
    expect(typed('2 mN.m', 'torque')).toBeCloseTo(0.002, 12);
    expect(typed('29.92 inHg', 'pressure')).toBeCloseTo(101320.8, 0);
    expect(typed('50 %', 'humidity')).toBe(0.5);
    expect(read('17 degC', scale_of('temperature', 'inch', 'in-oz'))).toBeCloseTo(290.15, 9);
    for (const text of ['68 degF', '3 turns', '2 mN·m']) expect(typed(text, 'height')).toBeUndefined();
    expect(how_to_write('68 degF', scale_of('height', 'metric', 'mN·m'))).toBe('"68 degF" is not understood: write a number, with its unit if it is another (m, ft or in)');
  });

  it('of a humidity as a share are asked, and shown as typed', () => {
    expect(shown(0.005, scale_of('humidity', 'metric', 'mN·m'))).toBe('0.5');
    expect(shown(0.5, scale_of('humidity', 'metric', 'mN·m'))).toBe('50');
    const asked = questions({ id: 'f', humidity: 0.005, propeller: 'A', motor: '1', duration_s: 400 });
    expect(asked).toEqual([{ column: 'humidity', words: '0.5\u00a0% humidity is very dry (50\u00a0%?)', drops: true }]);
    expect(questions({ id: 'f', humidity: 0.2, propeller: 'A', motor: '1', duration_s: 400 })).toEqual([]);
  });
});

describe('the order of the log', () => {
  const entry = (id: string, time?: string) => ({ flight: tidy({ id, ...(time ? { time } : {}) }), state: 'kept' as const, base: 1 });
  const today = [entry('b', '2026-11-21T15:00'), entry('a', '2026-11-21T14:00'), entry('c', '2026-11-21T16:00')];
  const log = [...today, entry('u1'), entry('old', '2025-01-01'), entry('u2')].sort(by_time);

  it('is by time, what has no date last, here and in files', () => {
    expect(log.map(({ flight }) => flight.id)).toEqual(['c', 'b', 'a', 'old', 'u2', 'u1']);
    expect(in_order_flown(log).map(({ id }) => id)).toEqual(['old', 'a', 'b', 'c', 'u1', 'u2']);
  });

  it('numbers the flights of each day, whatever old log is taken in', () => {
    const before = numbers_in_day([...today].sort(by_time)), after = numbers_in_day(log);
    for (const { flight: { id } } of today) expect(after.get(id)).toBe(before.get(id));
    expect([after.get('a'), after.get('c'), after.get('old'), after.get('u1')]).toEqual([1, 3, 1, 0]);
    expect(flown_on(log, '2026-11-21')).toBe(3);
  });
});

describe('the propellers at hand', () => {
  const day = '2026-11-21';
  const flown = (propellers: string): LoggedFlight[] => [...propellers].map((propeller, at) => ({ id: `f${at}`, time: `${day}T14:${String(at).padStart(2, '0')}`, propeller })).reverse();

  it('are the three used last, each at its place whichever flew last', () => {
    expect(at_hand(flown('ABBA'), 'propeller', 'A')).toEqual(['A', 'B']);
    expect(at_hand(flown('ABB'), 'propeller', 'B')).toEqual(['A', 'B']);
    expect(at_hand(flown('ABCD'), 'propeller', 'D')).toEqual(['B', 'C', 'D']);
    expect(at_hand([], 'propeller', undefined)).toEqual([]);
  });

  it('follow A B B A once two have flown that day, and come back to it', () => {
    let log = 'AB';
    while (log.length < 8) log += next_in_order(flown(log), day);
    expect(log).toBe('ABBAABBA');
    expect(next_in_order(flown('AAB'), day)).toBe('B');
    expect(next_in_order(flown('A'), day)).toBeNull();
    expect(next_in_order(flown('ABBA'), '2026-11-22')).toBeNull();
  });

  it('fly an aborted flight again', () => {
    const [last, ...before] = flown('ABB');
    expect(next_in_order([{ ...last!, flag: 'aborted' }, ...before], day)).toBe('B');
  });

  it('bring what belongs to them, and a motor one more winding', () => {
    const log: LoggedFlight[] = [{ id: 'f2', propeller: 'B', motor: '23', wind_number: 4, batch: 'spring' }, { id: 'f1', propeller: 'A', setting: '24°', motor: '22', wind_number: 7 }];
    expect(switched(log, 'propeller', 'A')).toEqual({ propeller: 'A', setting: '24°' });
    expect(switched(log, 'propeller', 'B').setting).toBeUndefined();
    expect(switched(log, 'motor', '23')).toMatchObject({ motor: '23', wind_number: 5, batch: 'spring' });
  });

  it('leave nothing of the one before, but what was entered for one without a name', () => {
    const log: LoggedFlight[] = [{ id: 'f1', motor: '1', motor_mass_kg: 0.00147, motor_length_m: 0.368, spacer_mass_kg: 0.0007, motor_part: 0.5, batch: 'b7', wind_number: 3 }];
    const emptied = { motor: '2', batch: undefined, motor_mass_kg: undefined, motor_section_m2: undefined, motor_length_m: undefined, spacer_mass_kg: undefined, motor_part: undefined, wind_number: undefined };
    expect(switched(log, 'motor', '2')).toStrictEqual(emptied);
    expect(switched(log, 'motor', '')).toStrictEqual({ ...emptied, motor: undefined });
    expect(switched(log, 'motor', '2', true)).toStrictEqual({ motor: '2' });
    expect(switched(log, 'motor', '1', true)).toMatchObject({ motor: '1', motor_mass_kg: 0.00147, wind_number: 4 });
  });
});

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { after_break, blank, break_of, next_after, row_of, with_motor_of } from '../../src/floor/draft';
import { is_break, tidy, type LoggedFlight } from '../../src/floor/flight';
import { flyable_of, motor_differs } from '../../src/floor/flyable';
import { scale_of } from '../../src/floor/units';
import { answers, choice_of, counted, design_of, hooked, meter_of, motor_of_card, only_rounded, reads_on, same_name, torque_at, without, type Flyable, type KeptCard, type Question, type WindAnswer } from '../../src/floor/wind';
import { learned_words, meter_words, remarks, sentences, why } from '../../src/floor/wind_words';
import { fields } from '../../src/store/fields.svelte';

/** Answers of the program at 10 °C to the two examples. */
const cold = (name: string): WindAnswer => JSON.parse(readFileSync(new URL(`./${name}-cold.json`, import.meta.url), 'utf8'));
const lantern = cold('lantern46'), sparrow = cold('sparrow16');
/** The same, counted on a winder of 10 : 1. */
const crank = cold('lantern46-crank');
const metric = { torque: scale_of('torque', 'metric', 'mN·m'), height: scale_of('height', 'metric', 'mN·m') };
const inch = { torque: scale_of('torque', 'inch', 'in-oz'), height: scale_of('height', 'inch', 'in-oz') };

const design = (id: string, propeller: string, model: string): Flyable => ({ id, title: id, propeller, model, learned: [], document: { job: {} } });
const shelf = [design('open', 'S16', 'Sparrow 16'), design('a', 'L46-A', 'Lantern 46'), design('b', 'L46-B', 'Lantern 46'), design('copy', 'L46-B', 'Lantern 50')];

describe('the design to wind for', () => {
  it('is the one whose propeller the flight names, whatever is open', () => {
    expect(design_of(shelf, 'L46-B', undefined, {})).toMatchObject({ design: { id: 'b' }, sure: true });
    expect(design_of(shelf, 'l46 b', 'Lantern 50', {})).toMatchObject({ design: { id: 'copy' }, sure: true });
    expect(design_of(shelf, undefined, undefined, {})).toMatchObject({ design: { id: 'open' }, sure: true });
    expect(design_of([], 'L46-B', undefined, {})).toBeNull();
  });

  it('is not sure where no design has that propeller, until one is chosen for it', () => {
    expect(design_of(shelf, 'P14', undefined, {})).toMatchObject({ design: { id: 'open' }, sure: false });
    expect(design_of(shelf, 'P14', 'Lantern 46', {})).toMatchObject({ design: { id: 'a' }, sure: false });
    expect(design_of(shelf, 'P14', undefined, { [choice_of('P14')]: 'b' })).toMatchObject({ design: { id: 'b' }, sure: true });
  });
});

describe('a card', () => {
  it('is counted in whole turns of the crank, which stops short of the safe turns', () => {
    for (const card of [lantern, crank, sparrow]) {
      const winding = counted(card)!;
      expect(winding.stop.count - winding.back).toBe(winding.hook.count);
      expect(winding.stop.turns).toBe(card.today.wind_turns);
      expect(winding.hook.turns).toBe(card.today.launch_turns);
      for (const { count, turns } of winding.steps) expect([Number.isInteger(count), turns]).toEqual([true, count * winding.ratio]);
    }
    expect([counted(crank)!.stop.count, counted(crank)!.stop.turns, counted(lantern)!.stop.count]).toEqual([182, 1820, 1820]);
  });

  it('of a program before this one, which told parts of a turn, is none', () => {
    const [first, ...rest] = lantern.card.steps;
    expect(counted({ ...lantern, card: { ...lantern.card, steps: [{ ...first!, winder_turns: 910.38 }, ...rest] } })).toBeNull();
  });

  it('tells torques at the turns that are counted', () => {
    const winding = counted(crank)!, whole = counted(lantern)!;
    expect(winding.hook.torque_Nm).toBeLessThan(whole.hook.torque_Nm);
    expect(winding.hook.torque_Nm).toBe(crank.card.hook_up_torque_Nm);
    expect(winding.launch_torque_Nm).toBe(crank.today.launch_torque_Nm);
  });

  it('says which torque is before the wait and which after it, in the turns and the unit of the builder', () => {
    const [first, second] = sentences(crank, counted(crank)!, metric, false);
    expect(first).toMatch(/^Temperature 10\.0\u00a0°C, not 20\.0\u00a0°C\. The motor gives 8\u00a0% less: back off 15\u00a0winder turns \(150 of the motor; before whole winder turns 14\d, on the sheet 213\)\.$/);
    expect(second).toMatch(/^Hooked up at 1\.97\u00a0mN·m, 1\.95\u00a0mN·m after the wait of 60\u00a0s, it tops out 0\.\d\u00a0m under 8\.5\u00a0m\.$/);
    const winding = counted(crank)!;
    const slow = { ...winding, launch_torque_Nm: winding.hook.torque_Nm - 1e-9 };
    expect(sentences(crank, slow, metric, false)[1]).toMatch(/^Hooked up at 1\.97\u00a0mN·m, the same after the wait of 60\u00a0s, it/);
    const in_inches = sentences(sparrow, counted(sparrow)!, inch, false).join(' ');
    expect(in_inches).toContain('in-oz');
    expect(in_inches).not.toMatch(/mN|g·cm/);
    const as_planned = { ...lantern, changes: [] };
    expect(sentences(as_planned, counted(as_planned)!, metric, false)[0]).toMatch(/^As on the sheet: /);
    expect(sentences(as_planned, counted(as_planned)!, metric, true)[0]).toMatch(/^As on the sheet with what flights taught: /);
  });

  it('does not take the rounding of a crank for a difference from the sheet', () => {
    const same = { ...crank, card: { ...crank.card, back_off_aim_turns: crank.planned.back_off_turns + 0.2 } };
    expect(sentences(same, counted(same)!, metric, false)[0]).toMatch(/back off 15\u00a0winder turns \(150 of the motor\)\.$/);
  });

  it('explains why the launch torque goes up for one model in the cold and down for another', () => {
    const up = why(lantern, metric), down = why(sparrow, metric);
    expect(up).toMatch(/^Launch torque 0\.41\u00a0mN·m more than on the sheet: at the same turns the colder rubber gives 0\.1\d less; 65 turns fewer backed off give 0\.5\d more\.$/);
    expect(down).toMatch(/^Launch torque 0\.03\u00a0mN·m less than on the sheet: at the same turns the colder rubber gives 0\.05 less; 231 turns fewer backed off give 0\.02 more\.$/);
    expect(why({ ...lantern, changes: [] }, metric)).toBe('');
  });

  it('passes on what the program says beside it', () => {
    expect(remarks(sparrow)).toHaveLength(2);
    expect(remarks({ ...sparrow, today: { ...sparrow.today, warnings: ['a', 'a'] } })[0]).toBe('a');
    expect(learned_words([])).toBe('');
    expect(learned_words(['Trim', 'Drag of the model'])).toBe('Uses what flights taught: trim, drag of the model.');
  });

  it('takes a value that differs only in digits nobody sees for that of the sheet', () => {
    const roof = { ...lantern.changes[0]!, what: 'roof' as const, from: '27.9 ft', to: '27.9 ft' };
    expect(only_rounded({ ...lantern, changes: [lantern.changes[0]!, roof] })).toEqual(['roof']);
    expect(without({ temperature: '10 degC', roof: '27.9 ft' }, ['roof'])).toEqual({ temperature: '10 degC' });
  });

  it('is that of another design, or of another state of it, by its key', () => {
    const kept = { answer: lantern, today: {}, winder_ratio: 1, asked_ms: 0, of: { id: 'a', title: 'A', key: 'a 1', learned: [] } };
    const question: Question = { today: {}, winder_ratio: 1, meter: null, key: 'a 1', risk: 'batch', wound_to: null };
    const asked = [{}, { key: 'a 2' }, { key: null }, { winder_ratio: 10 }, { today: { roof: '8 m' } }];
    expect(asked.map((change) => answers(kept, { ...question, ...change }))).toEqual([true, false, true, false, false]);
    // One of pages before these was wound to the job's share; breaks that are not known here say nothing against it.
    const wound = [{ wound_to: 'x' }, { wound_to: undefined }, { risk: 0.05 as const }, { risk: 'job' as const }];
    expect(wound.map((change) => answers(kept, { ...question, ...change }))).toEqual([false, true, false, false]);
    expect(answers({ ...kept, risk: 0.05, wound_to: 'x' }, { ...question, risk: 0.05, wound_to: 'x' })).toBe(true);
    // Steep near the end of the turns, and told at 61 points: what the program says at its own turns is met within 0.5 %.
    for (const { card } of [lantern, sparrow]) {
      for (const { words, turns, torque_Nm } of card.steps) {
        const told = torque_at(card.curve, words === 'hook up' ? 'torque_unwinding_Nm' : 'torque_winding_Nm', turns);
        expect(Math.abs(told / torque_Nm - 1), `${words} ${turns}`).toBeLessThan(0.005);
      }
    }
    expect(torque_at(lantern.card.curve, 'torque_unwinding_Nm', 0)).toBe(lantern.card.curve[0]!.torque_unwinding_Nm);
    expect(same_name('L46-B', 'l46 b')).toBe(true);
  });
});

describe('the torque meter of a card', () => {
  const wire = (id: string, diameter: string) => ({ id, name: id, meter: { wire: { diameter, length: '100 mm' }, unit: 'deg', step: 1 } }) as never;
  const thin = meter_of(wire('thin', '0.33 mm'))!, thick = meter_of(wire('thick', '0.40 mm'))!, bent = meter_of(wire('thin', '0.34 mm'))!;
  const on_deg: WindAnswer = { ...lantern, card: { ...lantern.card, meter_unit: 'deg' } };
  const kept: KeptCard = { answer: on_deg, today: {}, winder_ratio: 1, meter: thin, asked_ms: 0 };
  const question = { today: {}, winder_ratio: 1, key: null, risk: 'batch', wound_to: undefined } as const;

  it('is part of what the card answers, with its calibration', () => {
    expect([thin, thick, bent, null].map((meter) => answers(kept, { ...question, meter }))).toEqual([true, false, false, false]);
    expect(answers({ ...kept, answer: lantern, meter: null }, { ...question, meter: thin })).toBe(false);
  });

  it('of a card that an older page kept is not known: its readings are those of no meter of today', () => {
    const { meter: _, ...older } = kept;
    expect([thin, null].map((meter) => reads_on(older, meter))).toEqual([false, false]);
    expect([thin, null].map((meter) => reads_on({ ...older, answer: lantern }, meter))).toEqual([false, true]);
  });

  it('is named with its readings, and where they are of another it is told why they are gone', () => {
    expect(meter_words(kept, thin, metric.torque)).toBe('Readings in deg are those of the torque meter thin.');
    expect(meter_words(kept, thick, metric.torque)).toBe('Readings of the torque meter thin are not shown: thick is the meter of the day. Torques in mN·m hold on every meter.');
    expect(meter_words(kept, bent, metric.torque)).toBe('Readings of the torque meter thin as it was calibrated before are not shown. Torques in mN·m hold on every meter.');
    expect(meter_words(kept, null, metric.torque)).toBe('Readings of the torque meter thin are not shown. Torques in mN·m hold on every meter.');
    expect(meter_words({ ...kept, answer: lantern, meter: null }, thin, metric.torque)).toBe('');
  });
});

describe('hooked up', () => {
  const winding = counted(lantern)!;
  it('carries over who flies', () => {
    const { carried, turns_wound, turns_out } = hooked({ ...blank('f'), carried: { motor: 'box 7 no. 1' } }, lantern, winding, true);
    expect(carried).toMatchObject({ propeller: 'L46-A', model: 'Lantern 46', batch: 'box 7', motor: 'box 7 no. 1' });
    expect(turns_wound! - turns_out!).toBe(winding.hook.turns);
  });

  it('logs no torque that nobody read: those of the card are hints, those of the flight before go', () => {
    const draft = { ...blank('f'), carried: { motor: 'box 7 no. 1', torque_wound_Nm: 0.004, launch_torque_Nm: 0.002 } };
    const next = { ...draft, ...hooked(draft, lantern, winding, true) };
    expect(next.hints).toEqual({ torque_wound_Nm: winding.stop.torque_Nm, launch_torque_Nm: winding.launch_torque_Nm });
    const row = row_of(next, 0);
    expect([row.torque_wound_Nm, row.launch_torque_Nm, row.turns_wound]).toEqual([undefined, undefined, 1820]);
    // Typed from the meter after that, it is a reading.
    expect(row_of({ ...next, carried: { ...next.carried, launch_torque_Nm: 0.0019 } }, 0).launch_torque_Nm).toBe(0.0019);
  });

  it('leaves another propeller its name and its setting', () => {
    const kept = hooked({ ...blank('f'), carried: { propeller: 'P14', setting: 'flat' } }, lantern, winding, false).carried!;
    expect([kept.propeller, kept.setting, kept.model]).toEqual(['P14', 'flat', undefined]);
  });
});

describe('a motor that broke', () => {
  const carried: Partial<LoggedFlight> = {
    propeller: 'L46-B', setting: 'flat', model: 'Lantern 46', motor: 'box 7 no. 1', batch: 'box 7', wind_number: 4, torque_wound_Nm: 0.004, launch_torque_Nm: 0.002,
    mean_rev_per_s: 1.7, mean_rev_sigma_per_s: 0.1, notes: 'calm', temperature_K: 290, roof_m: 8.5,
  };
  const draft = { ...blank('f1'), turns_wound: 1820, turns_out: 150, steers: 2, carried };

  it('is a line with its turns and without the readings of a flight', () => {
    const row = break_of(draft, 1640, 'f2', 0);
    expect(Object.keys(row).sort()).toEqual(['batch', 'flag', 'id', 'model', 'motor', 'reason', 'temperature_K', 'time', 'turns_wound', 'wind_number']);
    expect([row.id, row.turns_wound, row.flag, is_break(row)]).toEqual(['f2', 1640, 'aborted', true]);
    expect(break_of(draft, null, 'f2', 0).turns_wound).toBeUndefined();
  });

  it('has batch and size by the card where the flight says nothing else of its motor', () => {
    const card = { batch: 'Box 7', motor_section_m2: 4.2e-6, motor_length_m: 0.37 };
    const { batch: _batch, ...unnamed } = carried;
    const size_of = (more: Partial<LoggedFlight>, of = card) => {
      const row = break_of({ ...draft, carried: { ...unnamed, ...more } }, 1640, 'f2', 0, of);
      return [row.batch, row.motor_section_m2, row.motor_length_m];
    };
    expect(size_of({})).toEqual(['Box 7', 4.2e-6, 0.37]);
    expect(size_of({ batch: 'box 7' })).toEqual(['box 7', 4.2e-6, 0.37]);
    expect(size_of({ batch: 'box 8' }), 'of another batch than the card').toEqual(['box 8', undefined, undefined]);
    expect(size_of({ motor_length_m: 0.4 })).toEqual(['Box 7', undefined, 0.4]);
    expect(size_of({ motor_part: 0.5 })).toEqual(['Box 7', undefined, undefined]);
  });

  it('has them only where the card is for it and it has no record of its own', () => {
    const card = { answer: lantern, today: {}, winder_ratio: 1, asked_ms: 0, of: { id: 'a', title: 'L46', key: '', learned: [] } };
    const flying = (id: string, sure: boolean) => ({ design: { id }, sure });
    const { rubber, section_m2, loop_length_m } = lantern.card;
    const whole = { batch: rubber, motor_section_m2: section_m2, motor_length_m: loop_length_m };
    expect(motor_of_card(card, flying('a', true), false)).toEqual(whole);
    expect(motor_of_card(card, null, false), 'in the hall, without the program').toEqual(whole);
    expect(motor_of_card(card, flying('a', true), true)).toEqual({ batch: rubber });
    expect(motor_of_card(card, flying('a', false), false), 'a propeller that no design has').toEqual({});
    expect(motor_of_card(card, flying('b', true), false), 'the card of before').toEqual({});
    expect(motor_of_card(null, flying('a', true), false)).toEqual({});
  });

  it('is not in the next flight', () => {
    const next = after_break(draft);
    expect([next.id, next.carried.motor, next.carried.wind_number, next.carried.launch_torque_Nm]).toEqual(['f1', undefined, undefined, undefined]);
    expect(next.carried.propeller).toBe('L46-B');
    const meanwhile = { ...next, carried: { ...next.carried, notes: 'draughty' } };
    expect(with_motor_of(draft, meanwhile).carried).toEqual({ ...carried, notes: 'draughty' });
    expect(next_after(tidy({ ...carried, id: 'f0' }), 'f3', '2026-11-21').carried.motor).toBe('box 7 no. 1');
  });
});

describe('a motor of the workshop', () => {
  it('is told apart from that of the design', () => {
    const length = { metric: 'mm', inch: 'in' };
    fields.use([{ field: 'motor.loop_length', unit: length, factor: { metric: 1000, inch: 1 / 0.0254 }, offset: { metric: 0, inch: 0 }, digits: { metric: 0, inch: 2 } }] as never);
    const job = { job: { units: 'metric' }, motor: { loop_length: '368 mm' } };
    expect(motor_differs(undefined, { job })).toBeNull();
    expect(motor_differs({ motor: { loop_length: '14.5 in' } }, { job })).toEqual([]);
    expect(motor_differs({ motor: { loop_length: '406 mm' } }, { job })).toEqual(["loop 406\u00a0mm, the design's 368\u00a0mm"]);
  });

  it('a design says what of it flights have taught', () => {
    const taught = flyable_of('a', 'A', { job: { propeller: { name: 'L46-A' }, learned: { airframe_drag: 1.1 } } });
    expect([taught.propeller, taught.model, taught.learned]).toEqual(['L46-A', '', ['Drag of the model']]);
    expect(flyable_of('a', 'A', { job: { learned: { use: false, airframe_drag: 1.1 } } }).learned).toEqual([]);
  });
});

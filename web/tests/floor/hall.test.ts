// The floor's parts by themselves: undo, presses, the air of today, the set-up, the flight that the next one follows.
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { air, today_of } from '../../src/floor/air.svelte';
import { flown_before, last_flown } from '../../src/floor/draft';
import { broke_reason, tidy } from '../../src/floor/flight';
import { Presses } from '../../src/floor/presses';
import type { Meter, Remote } from '../../src/floor/remote';
import { choice_from, risk_words, wound_to } from '../../src/floor/risk';
import { setup, setup_of, type Setup, type SetupTaken } from '../../src/floor/setup.svelte';
import { Undo } from '../../src/floor/undo.svelte';
import { scale_of } from '../../src/floor/units';
import { newer, type KeptCard } from '../../src/floor/wind';

const kept = new Map<string, string>();
beforeEach(() => {
  kept.clear();
  vi.useFakeTimers();
  vi.setSystemTime(new Date(2026, 10, 21, 10, 0, 0));
  vi.stubGlobal('localStorage', { getItem: (key: string) => kept.get(key) ?? null, setItem: (key: string, text: string) => void kept.set(key, text) });
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe('undo', () => {
  it('goes back state by state and forward again, until something else is changed', () => {
    const undo = new Undo<string>(9);
    undo.remember('a');
    undo.remember('b');
    expect(undo.undo('c')).toBe('b');
    expect(undo.undo('b')).toBe('a');
    expect(undo.undo('a')).toBeUndefined();
    expect([undo.can_undo, undo.can_redo]).toEqual([false, true]);
    expect(undo.redo('a')).toBe('b');
    undo.remember('b');
    expect(undo.redo('x')).toBeUndefined();
    expect(undo.undo('x')).toBe('b');
  });

  it('remembers so many states, the latest', () => {
    const undo = new Undo<number>(2);
    for (const state of [1, 2, 3]) undo.remember(state);
    expect([undo.undo(4), undo.undo(3), undo.undo(2)]).toEqual([3, 2, undefined]);
    const one = new Undo<number>(1);
    for (const state of [1, 2]) one.remember(state);
    expect([one.undo(3), one.undo(2)]).toEqual([2, undefined]);
  });

  it('has nothing left of another thing in the hand', () => {
    const undo = new Undo<number>(5);
    undo.remember(1);
    undo.undo(2);
    undo.clear();
    expect([undo.can_undo, undo.can_redo]).toEqual([false, false]);
  });
});

describe('a finger that comes down twice', () => {
  it('does not land what it just launched, and does after a moment', () => {
    const presses = new Presses();
    expect(presses.counts('launch', 'keep', 1000)).toBe(true);
    expect(presses.counts('land', 'launch', 1400)).toBe(false);
    expect(presses.counts('land', 'launch', 1700)).toBe(true);
  });

  it('can press again at once when the act was taken back', () => {
    const presses = new Presses();
    presses.counts('break', 'break', 1000);
    expect(presses.counts('break', 'break', 1100)).toBe(false);
    presses.forget();
    expect(presses.counts('break', 'break', 1200)).toBe(true);
  });
});

describe('the air of today', () => {
  it('is asked in the units it was read in, in full', () => {
    const measure = { temperature: 'temperature', humidity: 'humidity', pressure: 'pressure', roof: 'height' } as const;
    const inch = (field: keyof typeof measure) => scale_of(measure[field], 'inch', 'in-oz');
    expect(today_of({ temperature: 289.15, roof: 9 }, inch)).toEqual({ temperature: '60.8 degF', roof: '29.52755906 ft' });
  });

  it('is gone on the next day, also what was to stay unknown', () => {
    air.turn();
    air.enter('roof', 9);
    air.leave();
    expect([air.values, air.wanted]).toEqual([{ roof: 9 }, false]);
    vi.setSystemTime(new Date(2026, 10, 22, 0, 1, 0));
    expect(air.turn()).toBe('2026-11-22');
    expect([air.values, air.wanted]).toEqual([{}, true]);
  });

  it('keeps what was read before what the last flight of the day had', () => {
    air.turn();
    air.enter('temperature', 290);
    air.add({ temperature: 285, roof: 9 });
    expect(air.values).toEqual({ temperature: 290, roof: 9 });
    air.enter('temperature', null);
    expect(air.values).toEqual({ roof: 9 });
  });

  it('comes back after a reload of the same day only', () => {
    kept.set('propwright-floor-air', JSON.stringify({ day: '2026-11-20', values: { roof: 12 } }));
    air.begin(null);
    air.turn();
    expect(air.values.roof).not.toBe(12);
    kept.set('propwright-floor-air', JSON.stringify({ day: '2026-11-21', values: { roof: 12 }, left: true }));
    air.begin(null);
    expect([air.values, air.wanted]).toEqual([{ roof: 12 }, false]);
  });

  it('without the program is held to the ranges of the log', () => {
    air.turn();
    air.enter('roof', 1.5);
    expect(air.out_of_range('roof')).toMatchObject([{ field: 'roof', allowed: '2.0\u00a0m to 120.0\u00a0m' }]);
    air.enter('roof', 15);
    expect(air.out_of_range('roof')).toEqual([]);
  });
});

describe('the set-up', () => {
  it('has the torque unit that goes with the others, until one is chosen', () => {
    expect(setup_of(null, null, 'inch').torque_unit).toBe('in-oz');
    expect(setup_of({ unit_chosen: true, torque_unit: 'g·cm' }, null, 'inch').torque_unit).toBe('g·cm');
    expect(setup_of({ unit_chosen: true, torque_unit: 'in·oz' as Setup['torque_unit'] }, null, 'metric').torque_unit).toBe('in-oz');
  });

  it('of a page taken to the hall has the meter of its card, and the winder of this browser', () => {
    const meter = { id: 'm1', name: 'Wire', meter: {} } as Meter;
    const taken = { profile: 'inch' as const, torque_unit: 'in-oz' as const, winder_ratio: 15, meter, names: { propellers: [], motors: [] } } satisfies SetupTaken;
    expect(setup_of({ winder_ratio: 10, meter_id: 'm9' }, taken, 'inch')).toMatchObject({ winder_ratio: 10, meter_id: 'm1', meter });
    expect(setup_of(null, taken, 'inch').winder_ratio).toBe(15);
  });

  it('sends no meter that the open workshop does not have', async () => {
    setup.now = setup_of({ meter_id: 'm1', meter: { id: 'm1', name: 'Wire', meter: {} } }, null, 'metric');
    expect(setup.meter_id_sent).toBeNull();
    setup.remote = { names: async () => setup.names, meters: async () => [{ id: 'm2', name: 'Other', meter: {} }] } as Partial<Remote> as Remote;
    setup.read_names();
    await vi.waitFor(() => expect(setup.meters).toHaveLength(1));
    expect([setup.now.meter, setup.meter_id_sent]).toEqual([null, null]);
    setup.change({ meter_id: 'm2' });
    expect(setup.meter_id_sent).toBe('m2');
    setup.remote = null;
  });
});

describe('how far to wind', () => {
  const winds = [{ turns: '1905', width: '2 mm', length: '368 mm' }];

  it('is by the breaks of the batch, and by the job where the workshop has none', () => {
    expect(wound_to('batch', { risk: '2 %', winds })).toEqual({ risk: '2 %', needs_breaks: 3, winds });
    expect(wound_to('batch', { risk: '', winds })).toEqual({ risk: 0.05, needs_breaks: 3, winds });
    expect([wound_to('batch', null), wound_to('batch', { risk: '2 %', winds: [] }), wound_to('job', { risk: '2 %', winds })]).toEqual([null, null, null]);
  });

  it('is what the builder takes, whatever is known', () => {
    expect(wound_to(0.1, { risk: '2 %', winds })).toEqual({ risk: 0.1, winds });
    expect(wound_to(0.1, null)).toEqual({ risk: 0.1, winds: [] });
    expect(risk_words(0.05)).toBe('1 motor in 20 breaks');
  });

  it('comes back as it was chosen, and is the usual one where it is none', () => {
    expect(['0.05', 0.05, 'job', 'batch', '0.3', undefined].map(choice_from)).toEqual([0.05, 0.05, 'job', 'batch', 'batch', 'batch']);
  });
});

describe('the flight that the next one follows', () => {
  const flown = (id: string, time: string, reason?: string) => ({ flight: tidy({ id, time, ...(reason ? { flag: 'aborted', reason } : {}) }) });
  const log = [flown('ahead', '2026-11-23T10:00:00'), flown('broke', '2026-11-21T12:00:00', broke_reason), flown('late', '2026-11-21T11:00:00'), flown('early', '2026-11-21T09:00:00')];

  it('is the one flown last here today, else the latest of the log that was flown', () => {
    expect(last_flown(log, log[3], '2026-11-21')?.id).toBe('early');
    expect(last_flown(log, undefined, '2026-11-21')?.id).toBe('late');
    expect(last_flown(log, log[3], '2026-11-22')?.id).toBe('late');
    expect(last_flown([], undefined, '2026-11-21')).toBeNull();
  });

  it('is not what was flown since, where an earlier one is put right', () => {
    expect(flown_before(log, log[0]!.flight)?.id).toBe('late');
    expect(flown_before(log, log[2]!.flight)?.id).toBe('early');
    expect([flown_before(log, log[3]!.flight), flown_before(log, tidy({ id: 'none', time: '2026-11-21T12:00:00' }))]).toEqual([null, null]);
  });
});

it('the card asked for later is shown', () => {
  const card = (asked_ms: number) => ({ asked_ms }) as KeptCard;
  expect(newer(card(1), card(2))?.asked_ms).toBe(2);
  expect(newer(card(3), null)?.asked_ms).toBe(3);
});

// The book on a shelf that fails, and beside a program that answers late, otherwise, or as another workshop.
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Gone, Refused } from '../../src/api/client';
import { Book } from '../../src/floor/book.svelte';
import { tidy, type LoggedFlight } from '../../src/floor/flight';
import type { Merged, Remote, Sent } from '../../src/floor/remote';

const stored = new Map<string, string>();
let full = false;
const storage = { getItem: (key: string) => stored.get(key) ?? null, setItem: (key: string, text: string) => {
  if (full) throw new DOMException('full', 'QuotaExceededError');
  stored.set(key, text);
} };

/** A workshop in memory, as the program merges. */
class Workshop {
  flights = new Map<string, { flight: LoggedFlight; revision: number }>();
  withdrawn: { flight: LoggedFlight; revision: number }[] = [];
  calls: Sent[][] = [];
  fails: (() => unknown) | null = null;
  constructor(public id: string) {}
  merge(sent: readonly Sent[], workshop_id: string | null): Merged[] {
    this.calls.push([...sent]);
    const error = this.fails?.();
    if (error) throw error;
    if (workshop_id !== null && workshop_id !== this.id) throw new Refused(409, [], null);
    return sent.map(({ flight, base }) => {
      const there = this.flights.get(flight.id), same = there && JSON.stringify(there.flight) === JSON.stringify(flight);
      if (there && !same && base !== there.revision) return { id: flight.id, done: 'conflict', revision: there.revision, questions: [], present: { ...there, updated_at: '' } };
      const revision = same ? there.revision : (there?.revision ?? 0) + 1;
      this.flights.set(flight.id, { flight, revision });
      return { id: flight.id, done: same ? 'same' : there ? 'changed' : 'added', revision, questions: [] };
    });
  }
}
let open: Workshop;
const remote = {
  merge: async (sent: readonly Sent[], _meter: string | null, id: string | null) => open.merge(sent, id),
  latest: async () => {
    const error = open.fails?.();
    if (error) throw error;
    return { workshop_id: open.id, items: [...open.flights.values()].map((row) => ({ ...row, updated_at: '' })), withdrawn: open.withdrawn };
  },
} as unknown as Remote;

const flight = (id: string, more: Partial<LoggedFlight> = {}) => tidy({ id, time: '2026-11-21T14:05:00', duration_s: 300, ...more });
const fresh = { taken: null, base: null, launched: false };
const rest = (ms = 0) => vi.advanceTimersByTimeAsync(ms);
/** A tab of its own on the same storage. */
async function tab() {
  const book = new Book();
  await book.start(remote);
  await rest();
  return book;
}

beforeEach(() => {
  vi.useFakeTimers();
  stored.clear();
  full = false;
  open = new Workshop('a');
  vi.stubGlobal('localStorage', storage);
  vi.stubGlobal('document', { addEventListener: () => undefined });
  vi.stubGlobal('addEventListener', () => undefined);
  vi.stubGlobal('BroadcastChannel', undefined);
  vi.spyOn(console, 'error').mockImplementation(() => undefined);
});
afterEach(() => {
  vi.clearAllTimers();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe('the book', () => {
  it('keeps two flights of two tabs that began with one id', async () => {
    const one = await tab(), two = await tab();
    open.fails = () => new Gone('');
    await one.keep(flight('f1'), fresh);
    await two.keep(flight('f1', { duration_s: 390 }), fresh);
    open.fails = null;
    await rest(5000);
    expect([...open.flights.values()].map((row) => row.flight.duration_s).sort()).toEqual([300, 390]);
  });

  it('sends what another tab put right, not what it saw last', async () => {
    open.fails = () => new Gone('');
    const one = await tab();
    await one.keep(flight('f1'), fresh);
    const two = await tab();
    await one.keep(flight('f1', { touches: 1 }), { taken: flight('f1'), base: null, launched: false });
    open.fails = null;
    await two.send();
    expect(open.flights.get('f1')).toEqual({ flight: flight('f1', { touches: 1 }), revision: 1 });
    expect(two.entry('f1')).toMatchObject({ state: 'kept', flight: { touches: 1 } });
  });

  it('takes a flight put right over its own upload whose answer was lost', async () => {
    const one = await tab();
    const merge = open.merge.bind(open);
    open.merge = (sent, id) => {
      merge(sent, id);
      open.merge = merge;
      throw new Gone('');
    };
    await one.keep(flight('f1'), fresh);
    await one.keep(flight('f1', { touches: 1 }), { taken: flight('f1'), base: null, launched: false });
    await rest(5000);
    expect(one.conflicts).toEqual([]);
    expect(open.flights.get('f1')).toEqual({ flight: flight('f1', { touches: 1 }), revision: 2 });
  });

  it('goes on after the program is back, also where nothing waits', async () => {
    const one = await tab();
    open.fails = () => new Gone('');
    await one.read_workshop();
    expect(one.gone).toBe(true);
    open.fails = null;
    await rest(3000);
    expect(one.gone).toBe(false);
  });

  it('tells what the program says, and asks for the code', async () => {
    const one = await tab();
    open.fails = () => new Refused(507, [{ file: '', line: null, field: '', value: '', allowed: '', remedy: 'make room', message: 'the disc is full' }], null);
    await one.keep(flight('f1'), fresh);
    await rest();
    expect([one.gone, one.locked, one.refusal]).toEqual([false, false, 'the disc is full; make room']);
    open.fails = () => new Refused(401, [], null);
    await rest(6000);
    expect([one.gone, one.locked, one.refusal]).toEqual([false, true, '']);
    open.fails = null;
    await rest(6000);
    expect([one.locked, one.waiting]).toEqual([false, 0]);
  });

  it('refuses only what the program takes not even alone', async () => {
    const one = await tab();
    open.fails = () => (open.calls.at(-1)!.some((sent) => sent.flight.id === 'bad') ? new Refused(422, [{ file: '', line: null, field: 'meter_id', value: '', allowed: '', remedy: '', message: 'no' }], null) : null);
    await one.take_in(['f1', 'bad', 'f3'].map((id) => flight(id)));
    await rest();
    expect(one.refused.map((entry) => entry.flight.id)).toEqual(['bad']);
    expect([...open.flights.keys()].sort()).toEqual(['f1', 'f3']);
  });

  it('writes again what the browser did not take, and says so no longer than it is true', async () => {
    open.fails = () => new Gone('');
    const one = await tab();
    full = true;
    await one.keep(flight('f1'), fresh);
    expect(one.unkept).toBe(true);
    full = false;
    await rest(4000);
    expect(one.unkept).toBe(false);
    expect((await tab()).entry('f1')).toBeDefined();
    full = true;
    open.fails = null;
    await one.keep(flight('f2'), fresh);
    await rest(5000);
    expect([one.unkept, open.flights.size]).toEqual([false, 2]);
  });

  it('takes a break back only while nobody has sent it', async () => {
    const one = await tab();
    await one.keep_held(flight('f1'), 30000);
    const two = await tab();
    await two.send();
    expect(open.flights.size).toBe(0);
    expect(await one.take_out('f1')).toBe(true);
    await one.keep_held(flight('f2'), 30000);
    open.flights.set('f2', { flight: flight('f2'), revision: 1 });
    await two.read_workshop();
    expect(await one.take_out('f2')).toBe(false);
    await one.keep_held(flight('f3'), 30000);
    await rest(31000);
    expect(open.flights.has('f3')).toBe(true);
  });

  it('lists and sends nothing of another workshop, counts it, and brings it over when told', async () => {
    const one = await tab();
    await one.keep(flight('f1'), fresh);
    await rest();
    const first = open;
    first.fails = () => new Gone('');
    await one.keep(flight('f2'), fresh);
    open = new Workshop('b');
    await rest(10000);
    expect([open.flights.size, one.entries.length, one.total]).toEqual([0, 0, 0]);
    expect([one.elsewhere.waiting.map((entry) => entry.flight.id), one.elsewhere.kept]).toEqual([['f2'], 1]);
    const two = await tab();
    expect(two.entries).toEqual([]);
    await two.bring_over();
    await rest();
    expect([...open.flights.keys()]).toEqual(['f2']);
    expect(two.elsewhere).toEqual({ waiting: [], kept: 1 });
    open = first;
    first.fails = null;
    const three = await tab();
    expect(three.entries.map((entry) => entry.flight.id)).toEqual(['f1']);
  });

  it('keeps a file beside what waits, and sends what the builder chose', async () => {
    open.fails = () => new Gone('');
    const one = await tab();
    await one.keep(flight('f1', { touches: 1 }), fresh);
    expect(await one.take_in([flight('f1')])).toMatchObject({ added: 0, same: 0, differing: 1 });
    expect(one.entry('f1')).toMatchObject({ state: 'conflict', from: 'file', flight: { touches: 1 } });
    open.fails = null;
    await rest(5000);
    expect(open.flights.size).toBe(0);
    await one.choose(one.entry('f1')!, false);
    await rest();
    expect(open.flights.get('f1')!.flight).toEqual(flight('f1'));
  });
});

describe('what another device took back', () => {
  it('goes here as well, unless it was changed here meanwhile', async () => {
    const one = await tab();
    await one.take_in([flight('f1'), flight('f2')]);
    await one.send();
    await rest();
    open.withdrawn = [...open.flights.values()].map((row) => ({ ...row, revision: row.revision + 1 }));
    open.flights.clear();
    open.fails = () => new Gone('away');
    await one.keep(flight('f2', { notes: 'mine' }), { taken: flight('f2'), base: 1, launched: false });
    await rest();
    open.fails = null;
    await one.read_workshop();
    await rest();
    expect(one.entries.map(({ flight: { id, notes }, state }) => [id, notes, state])).toEqual([['f2', 'mine', 'waiting']]);
  });
});

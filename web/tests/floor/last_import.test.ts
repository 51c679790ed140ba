// An import taken back: what was sent nowhere goes at once, what the workshop has is withdrawn there, what was changed since stays.
import { describe, expect, it, vi } from 'vitest';
import { Gone } from '../../src/api/client';
import { book } from '../../src/floor/book.svelte';
import { tidy, type LoggedFlight } from '../../src/floor/flight';
import { as_taken } from '../../src/floor/imports';
import { fate, last_import, taken_back_words } from '../../src/floor/last_import.svelte';
import type { Remote, Sent } from '../../src/floor/remote';
import { setup } from '../../src/floor/setup.svelte';

const flight = (id: string, more: Partial<LoggedFlight> = {}) => tidy({ id, time: '2026-11-21T14:05:00', duration_s: 300, ...more });

describe('what becomes of an imported flight', () => {
  const came = flight('f1'), mark = as_taken([came]).f1!;
  it('follows from where it lies and whether it still is as it came', () => {
    expect(fate({ flight: came, state: 'waiting', base: null }, mark)).toBe('out');
    expect(fate({ flight: came, state: 'kept', base: 1 }, mark)).toBe('seen');
    expect(fate({ flight: flight('f1', { notes: 'calm' }), state: 'kept', base: 2 }, mark)).toBe('stays');
    expect(fate({ flight: came, state: 'waiting', base: null, sent: [came] }, mark)).toBe('stays');
  });
});

it('is said with the number of flights', () => {
  expect(taken_back_words('old.csv', 31, 0, 0)).toBe('31 flights of old.csv are taken back; take the file in again to have them here.');
  expect(taken_back_words('old.csv', 1, 2, 1)).toBe('1 flight of old.csv is taken back; take the file in again to have it here. 2 flights that it corrected are as they were. 1 flight was changed since and stays.');
  expect(taken_back_words('old.csv', 0, 0, 0)).toBe('Nothing of old.csv is left here.');
});

describe('taking back', () => {
  it('asks the workshop, waits where it does not answer, and brings corrected flights back as they were', async () => {
    const kept = new Map<string, string>();
    vi.stubGlobal('localStorage', { getItem: (key: string) => kept.get(key) ?? null, setItem: (key: string, text: string) => void kept.set(key, text) });
    vi.stubGlobal('document', { addEventListener: () => undefined });
    vi.stubGlobal('addEventListener', () => undefined);
    vi.stubGlobal('BroadcastChannel', undefined);
    let away = true;
    const there = new Map<string, { flight: LoggedFlight; revision: number }>();
    const withdrawn: string[] = [];
    const remote = {
      latest: async () => ({ workshop_id: 'w', items: [...there.values()].map((row) => ({ ...row, updated_at: '' })), withdrawn: [] }),
      merge: async (sent: readonly Sent[]) => sent.map(({ flight }) => {
        const revision = (there.get(flight.id)?.revision ?? 0) + 1;
        there.set(flight.id, { flight, revision });
        return { id: flight.id, done: revision === 1 ? 'added' : 'changed', revision, questions: [] };
      }),
      withdraw: async (flights: readonly { id: string; revision: number }[]) => {
        if (away) throw new Gone('away');
        return flights.map(({ id, revision }) => {
          const done = there.get(id)?.revision === revision ? 'withdrawn' : 'changed';
          if (done === 'withdrawn') withdrawn.push(id);
          return { id, done, revision };
        });
      },
    } as unknown as Remote;
    setup.remote = remote;
    await book.start(remote);
    await book.first_look();

    const before = flight('f0', { notes: 'calm' }), came = flight('f0', { notes: 'calm', duration_s: 301 });
    await book.take_in([before]);
    await book.send();
    const news = [flight('f1'), flight('f2'), flight('f3')];
    const { ids } = await book.take_in(news);
    await book.keep(came, { base: 1, taken: before, launched: false });
    await book.send();
    expect(ids).toEqual({ added: ['f1', 'f2', 'f3'], differing: [] });
    last_import.remember({ file: 'old.csv', at_ms: 0, added: as_taken(news), corrected: [{ before, came }], differing: [] });
    await book.keep(flight('f3', { notes: 'mine' }), { base: 1, taken: news[2]!, launched: false });
    await book.send();

    expect(await last_import.take_back()).toBe('The program does not answer: 2 flights of old.csv are still in the workshop. Press again when it runs.');
    expect(last_import.count).toBe(4);
    away = false;
    expect(await last_import.take_back()).toBe('2 flights of old.csv are taken back; take the file in again to have them here. 1 flight that it corrected is as it was. 1 flight was changed since and stays.');
    await book.send();
    expect(withdrawn).toEqual(['f1', 'f2']);
    expect(book.entries.map(({ flight: { id, notes } }) => [id, notes]).sort()).toEqual([['f0', 'calm'], ['f3', 'mine']]);
    expect(there.get('f0')!.flight.duration_s).toBe(300);
    expect([last_import.now, last_import.count]).toEqual([null, 0]);
    setup.remote = null;
    vi.unstubAllGlobals();
  });
});

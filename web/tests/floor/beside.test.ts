// One flight beside what lies here by now: kept twice, sent twice, taken in over what waits, of another workshop.
import { describe, expect, it } from 'vitest';
import { Refused } from '../../src/api/client';
import { tidy, type LoggedFlight } from '../../src/floor/flight';
import { answered, kept_beside, number_in_day, numbers_in_day, by_time, flown_on, put_in_order, read_row, recent, take_in } from '../../src/floor/merge';
import { not_taken, standing_words } from '../../src/floor/refusal';
import type { Entry } from '../../src/floor/shelf';

const flight = (id: string, change: Partial<LoggedFlight> = {}): LoggedFlight => tidy({ id, time: '2026-11-21T14:05:00', propeller: 'P14', duration_s: 300, ...change });
const entry = (of: LoggedFlight, state: Entry['state'], base: number | null = null, more: Partial<Entry> = {}): Entry => ({ flight: of, state, base, ...more });
const fresh = { taken: null, base: null, launched: false };

describe('keeping a flight', () => {
  it('that is new never goes over another one of its id', () => {
    const there = entry(flight('f1'), 'waiting');
    const kept = kept_beside(there, flight('f1', { time: '2026-11-21T14:15:00', duration_s: 390 }), fresh, 'f2');
    expect(kept).toMatchObject({ state: 'waiting', base: null, flight: { id: 'f2', duration_s: 390 } });
  });

  it('that was launched once and kept in two tabs is one flight with two states to settle', () => {
    const there = entry(flight('f1'), 'kept', 1);
    const again = flight('f1', { duration_s: 301 });
    const kept = kept_beside(there, again, { ...fresh, launched: true }, 'f2');
    expect(kept).toMatchObject({ flight: again, state: 'conflict', base: 1, from: 'tab', present: { flight: there.flight } });
    expect(kept_beside(there, flight('f1'), { ...fresh, launched: true }, 'f2')).toBe(there);
  });

  it('that was taken back while its upload was under way is a change of what the workshop has by now', () => {
    const corrected = flight('f1', { touches: 1 });
    const seen = { taken: flight('f1'), base: null, launched: false };
    expect(kept_beside(entry(flight('f1'), 'kept', 1), corrected, seen, 'f2')).toEqual(entry(corrected, 'waiting', 1));
  });

  it('that another tab put right meanwhile shows both', () => {
    const seen = { taken: flight('f1'), base: 1, launched: false };
    const theirs = flight('f1', { steers: 2 }), mine = flight('f1', { touches: 1 });
    expect(kept_beside(entry(theirs, 'kept', 2), mine, seen, 'f2')).toMatchObject({ flight: mine, state: 'conflict', present: { flight: theirs, revision: 2 } });
    expect(kept_beside(entry(theirs, 'waiting', 1), mine, seen, 'f2')).toMatchObject({ flight: mine, state: 'conflict', from: 'tab', present: { flight: theirs } });
  });

  it('stays one of the workshop it was logged for', () => {
    const seen = { taken: flight('f1'), base: 1, launched: false };
    expect(kept_beside(entry(flight('f1'), 'kept', 1, { workshop: 'a' }), flight('f1', { touches: 1 }), seen, 'f2').workshop).toBe('a');
  });
});

describe('a file over what waits here', () => {
  const corrected = flight('f1', { duration_s: 465 });

  it('leaves it there and keeps both for the builder to settle', () => {
    for (const here of [entry(corrected, 'waiting', 1), entry(corrected, 'refused', 1, { reason: 'notes: too long' })]) {
      const report = take_in([here], [flight('f1')]);
      expect([report.added, report.same, report.differing]).toEqual([0, 0, 1]);
      expect(report.entries).toEqual([expect.objectContaining({ flight: corrected, state: 'conflict', base: 1, from: 'file', present: expect.objectContaining({ flight: flight('f1') }) })]);
      // The same file again changes nothing more, and a third state does not push one of the two out.
      const again = take_in(report.entries, [flight('f1'), flight('f1', { duration_s: 500 })]);
      expect([again.same, again.differing, again.entries]).toEqual([1, 1, []]);
    }
  });
});

describe('an answer', () => {
  const merged = (done: 'added' | 'conflict' | 'refused', revision: number, present?: LoggedFlight) => ({ id: 'f1', done, revision, questions: [], ...(present ? { present: { revision, updated_at: '', flight: present } } : {}) });
  const sent = flight('f1');

  it('does not go over what another tab put right meanwhile', () => {
    const now = entry(flight('f1', { touches: 1 }), 'waiting', null, { sent: [sent] });
    expect(answered(now, sent, merged('added', 1), 'a')).toEqual(entry(now.flight, 'waiting', 1, { workshop: 'a' }));
  });

  it('of two states tells no second place where the other one came from here and its answer was lost', () => {
    const corrected = flight('f1', { touches: 1 });
    const now = entry(corrected, 'waiting', null, { sent: [sent, corrected] });
    expect(answered(now, corrected, merged('conflict', 1, sent))).toMatchObject({ flight: corrected, state: 'waiting', base: 1 });
    expect(answered(now, corrected, merged('conflict', 1, flight('f1', { steers: 1 })))).toMatchObject({ state: 'conflict', present: { revision: 1 } });
    expect(answered(now, corrected, merged('conflict', 2, corrected))).toMatchObject({ state: 'kept', base: 2 });
  });

  it('leaves two states that came together meanwhile for the builder', () => {
    const now = entry(sent, 'conflict', null, { from: 'file', present: { flight: flight('f1', { steers: 1 }), revision: 0, updated_at: '' } });
    expect(answered(now, sent, merged('added', 1))).toEqual({ ...now, base: 1 });
  });

  it('refuses the one it names, not what was changed since', () => {
    const refused = { ...merged('refused', 0), problems: [{ file: '', line: null, field: 'notes', value: '', allowed: '', remedy: '', message: 'too long' }] };
    expect(answered(entry(sent, 'waiting'), sent, refused)).toMatchObject({ state: 'refused', reason: 'notes: too long' });
    expect(answered(entry(flight('f1', { touches: 1 }), 'waiting'), sent, refused)).toMatchObject({ state: 'waiting' });
  });
});

describe('a row of the workshop', () => {
  const row = { flight: flight('f1'), revision: 3, updated_at: '' };

  it('that is what waits here ends the waiting', () => {
    expect(read_row(entry(flight('f1'), 'waiting'), row, 'a')).toEqual(entry(row.flight, 'kept', 3, { workshop: 'a' }));
    expect(read_row(entry(flight('f1', { touches: 1 }), 'waiting'), row, 'a')).toBeNull();
  });

  it('does not go over a flight that waits for another workshop', () => {
    expect(read_row(entry(flight('f1'), 'waiting', null, { workshop: 'b' }), row, 'a')).toBeNull();
    expect(read_row(entry(flight('f1'), 'kept', 9, { workshop: 'b' }), row, 'a')).toMatchObject({ base: 3, workshop: 'a' });
  });

  it('tells which workshop an entry of an older page is of', () => {
    expect(read_row(entry(flight('f1'), 'kept', 3), row, 'a')).toMatchObject({ workshop: 'a' });
    expect(read_row(entry(flight('f1'), 'kept', 3, { workshop: 'a' }), row, 'a')).toBeNull();
  });
});

describe('a refusal', () => {
  const refused = (fields: string[]) => new Refused(422, fields.map((field) => ({ file: '', line: null, field, value: '', allowed: '', remedy: '', message: 'no' })), null);
  const part = [entry(flight('f1'), 'waiting'), entry(flight('f2'), 'waiting')];

  it('that names no flight refuses none of several, and the one that was sent alone', () => {
    expect(not_taken(part, refused(['meter_id'])).size).toBe(0);
    expect([...not_taken(part.slice(0, 1), refused(['meter_id'])).keys()]).toEqual(['f1']);
  });

  it('refuses those that it names', () => {
    expect([...not_taken(part, refused(['flights[2].flight.notes', 'flights[2].flight.flag']))]).toEqual([['f2', 'notes: no; flag: no']]);
  });

  it('is told in the words of the program, and offline only where nobody answers', () => {
    const well = { waiting: 1, total: 1, unkept: false, gone: false, locked: false, refusal: '' };
    expect(standing_words(well, true)).toBe('one kept here');
    expect(standing_words({ ...well, gone: true }, true)).toBe('offline, one kept here');
    expect(standing_words({ ...well, refusal: 'the disc is full; make room' }, true)).toBe('the program says: the disc is full; make room; one kept here');
    expect(standing_words({ ...well, locked: true }, true)).toBe('the program wants the access code; one kept here');
    expect(standing_words({ ...well, waiting: 0 }, true)).toBe('');
  });
});

describe('a long log', () => {
  const at = (n: number, day = '2026-11-21') => entry(flight(`f${n}`, { time: `${day}T${String(10 + Math.floor(n / 60)).padStart(2, '0')}:${String(n % 60).padStart(2, '0')}` }), 'kept', 1);
  const log = [...Array.from({ length: 30 }, (_, n) => at(n)), ...Array.from({ length: 30 }, (_, n) => at(100 + n, '2026-11-20'))].sort(by_time);

  it('takes a change in at its place', () => {
    const later = entry(flight('g', { time: '2026-11-21T10:05:30' }), 'waiting');
    const changed = new Map<string, Entry | undefined>([['g', later], ['f3', undefined], ['f129', { ...at(129, '2026-11-20'), base: 2 }]]);
    const next = put_in_order(log, changed);
    expect(next).toEqual([...log.filter(({ flight: { id } }) => id !== 'f3' && id !== 'f129'), later, changed.get('f129')!].sort(by_time));
  });

  it('numbers one flight as it numbers all', () => {
    const all = numbers_in_day(log), first = numbers_in_day(log, 5);
    for (const { flight: each } of log) expect(number_in_day(log, each)).toBe(all.get(each.id));
    expect(first).toEqual(new Map([...all].filter(([id]) => log.findIndex((each) => each.flight.id === id) < 30)));
    expect([flown_on(log, '2026-11-20'), flown_on(log, '2026-11-19'), flown_on(log, '')]).toEqual([30, 0, 0]);
  });

  it('is held by whole days, and what the workshop has not is held all the same', () => {
    const old = entry(flight('old', { time: '2020-01-01' }), 'waiting');
    expect(recent([...log, old], 10)).toEqual([...log.slice(0, 30), old]);
    expect(recent(log, 100)).toEqual(log);
  });
});

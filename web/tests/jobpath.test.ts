import { describe, expect, it } from 'vitest';
import type { JobTable } from '../src/api/types';
import { changes, read, same, steps_of, write } from '../src/lib/jobpath';

const job: JobTable = {
  hall: { roof_height: '8.5 m' },
  propeller: { station: [{ radius: '30 mm' }, { radius: '60 mm', angle: '40 deg' }] },
};

describe('field names', () => {
  it('count rows from one, as the problems do', () =>
    expect(steps_of('propeller.station[2].radius')).toEqual(['propeller', 'station', 1, 'radius']));
  it('are refused when broken', () => expect(() => steps_of('hall..roof')).toThrow());
});

describe('read', () => {
  it('finds fields and rows', () => {
    expect(read(job, 'hall.roof_height')).toBe('8.5 m');
    expect(read(job, 'propeller.station[2].angle')).toBe('40 deg');
  });
  it('is undefined where nothing stands', () => {
    expect(read(job, 'air.temperature')).toBeUndefined();
    expect(read(job, 'propeller.station[9].angle')).toBeUndefined();
  });
});

describe('write', () => {
  it('leaves the old document as it was and shares what did not change', () => {
    const next = write(job, 'hall.roof_height', '9 m');
    expect(read(job, 'hall.roof_height')).toBe('8.5 m');
    expect(read(next, 'hall.roof_height')).toBe('9 m');
    expect(next.propeller).toBe(job.propeller);
  });
  it('makes tables that were not there', () => expect(write({}, 'a.b.c', 1)).toEqual({ a: { b: { c: 1 } } }));
  it('takes a field out with undefined', () => expect(write(job, 'hall.roof_height', undefined).hall).toEqual({}));
  it('takes a whole row out with undefined', () =>
    expect(read(write(job, 'propeller.station[1]', undefined), 'propeller.station')).toEqual([{ radius: '60 mm', angle: '40 deg' }]));
});

describe('same', () => {
  it('looks at content, not at order', () => expect(same({ a: 1, b: [1, { c: 2 }] }, { b: [1, { c: 2 }], a: 1 })).toBe(true));
  it('tells a missing from a present field', () => {
    expect(same({ a: 1 }, { a: 1, b: 2 })).toBe(false);
    expect(same({ a: 1, b: undefined }, { a: 1 })).toBe(true);
  });
  it('tells lists from tables', () => expect(same([], {})).toBe(false));
});

describe('changes', () => {
  it('names each field with both values', () => {
    const next = write(write(job, 'propeller.station[1].radius', '31 mm'), 'air.temperature', '21 degC');
    expect(changes(job, next)).toEqual([
      { field: 'propeller.station[1].radius', from: '30 mm', to: '31 mm' },
      { field: 'air.temperature', from: undefined, to: '21 degC' },
    ]);
  });
});

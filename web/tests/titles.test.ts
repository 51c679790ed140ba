// What is printed of a design carries the workshop's name and version.
import { expect, test } from 'vitest';
import { titled } from '../src/store/titles';

const lantern = { job: { job: { name: 'Example', version: 4, note: 'kept' }, hall: { roof_height: '9 m' } } };

test('name and version become those of the workshop, the rest stays', () => {
  expect(titled(lantern, 'My first', 1)).toEqual({ job: { job: { name: 'My first', version: 1, note: 'kept' }, hall: { roof_height: '9 m' } } });
  expect(lantern.job.job.version).toBe(4);
});

test('a document without a [job] gets one; one that says it already is the very same', () => {
  expect(titled({ job: {} }, 'A', 2)).toEqual({ job: { job: { name: 'A', version: 2 } } });
  expect(titled(lantern, 'Example', 4)).toBe(lantern);
});

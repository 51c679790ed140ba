import { expect, test } from 'vitest';
import { code_texts, read_code, read_words, seen_with, wanting_words, type Seen } from '../../src/floor/codes';
import { sound_flights } from '../../src/floor/csv';
import type { LoggedFlight } from '../../src/floor/flight';

const flight = (at: number): LoggedFlight => ({
  id: `fabc${at}-0123456789abcdef`, time: `2026-11-21T14:${String(at % 60).padStart(2, '0')}:30`, propeller: at % 2 ? 'P14' : 'P15', motor: '23',
  turns_wound: 1960, turns_at_launch: 1790, turns_left: 240 + at, launch_torque_Nm: 0.0012, duration_s: 700 + at / 10, touches: 0, steers: 1, flag: 'steered', notes: 'Pause nach 3 min – „Knoten“',
});
const flights = Array.from({ length: 40 }, (_, at) => flight(at));

async function read_all(texts: readonly string[]) {
  const codes = await Promise.all(texts.map(read_code));
  return sound_flights(codes.flatMap((code) => code?.flights ?? []));
}

test('forty flights go through codes of a size that a camera reads, and come back as they were', async () => {
  const texts = await code_texts(flights);
  expect(texts.length).toBeGreaterThan(1);
  expect(texts.length).toBeLessThan(20);
  for (const text of texts) expect(text.length).toBeLessThan(420);
  const { flights: back, not_understood } = await read_all(texts);
  expect(not_understood).toEqual([]);
  expect(back).toEqual(flights);
  expect((await read_code(texts[1]!))?.number).toBe(2);
  expect((await read_code(texts[1]!))?.of).toBe(texts.length);
});

test('each code is read for itself, in any order', async () => {
  const texts = await code_texts(flights);
  const { flights: back } = await read_all([...texts].reverse().slice(1));
  expect(back.length).toBeGreaterThan(0);
  expect(flights).toEqual(expect.arrayContaining(back));
});

test('a browser that does not deflate makes codes that are read as well', async () => {
  const kept = globalThis.CompressionStream;
  // @ts-expect-error: as an older browser has it
  globalThis.CompressionStream = undefined;
  const texts = await code_texts(flights.slice(0, 3)).finally(() => (globalThis.CompressionStream = kept));
  expect(texts[0]).toMatch(/^PWF1 1\/\d+ [0-9a-f]{8} t/);
  expect((await read_all(texts)).flights).toEqual(flights.slice(0, 3));
});

test('one flight with a very long note is a code of its own', async () => {
  // Letters that do not repeat, so that deflating gains little.
  let state = 1;
  const letter = () => String.fromCharCode(97 + ((state = (state * 48271) % 2147483647) % 26));
  const long = { ...flight(1), notes: Array.from({ length: 900 }, letter).join('') };
  const texts = await code_texts([flight(0), long, flight(2)]);
  expect(texts.length).toBe(3);
  expect((await read_all(texts)).flights[1]).toEqual(long);
});

test('what is no code of flights, or is damaged, is none', async () => {
  expect(await code_texts([])).toEqual([]);
  for (const text of ['', 'https://example.org', 'PWF1 1/1 zAAAA', 'PWF1 1/1 tbm90IEpTT04', 'PWF2 1/1 tAAAA']) expect(await read_code(text)).toBeNull();
  const [sound] = await code_texts([flight(0)]);
  expect(await read_code(sound!.slice(0, -9))).toBeNull();
});

test('codes of two phones are told apart by their series, also where each has two', async () => {
  const [mine, theirs] = await Promise.all([code_texts(flights.slice(0, 8)), code_texts(flights.slice(20, 28))]);
  expect([mine.length, theirs.length]).toEqual([2, 2]);
  const seen = async (texts: readonly string[]) => (await Promise.all(texts.map(read_code))).reduce<Seen>((all, code) => seen_with(all, code!), []);
  const mixed = await seen([mine[0]!, theirs[1]!]);
  expect(read_words(mixed)).toBe('2 of 4 codes read');
  expect(wanting_words(mixed)).toBe('These codes are of 2 series. Series 1, of 2: still wanting 2. Series 2, of 2: still wanting 1.');
  expect(wanting_words(await seen([mine[0]!]))).toBe('Still wanting: 2.');
  expect(wanting_words(await seen([mine[1]!, mine[0]!, mine[0]!, ...theirs]))).toBe('All of them are here.');
});

test('codes of pages before this one, without a series, are still read', async () => {
  const texts = (await code_texts(flights)).map((text) => text.replace(/^(PWF1 \S+) [0-9a-f]{8} /, '$1 '));
  expect(texts[0]).toMatch(/^PWF1 1\/\d+ [zt]/);
  expect((await read_all(texts)).flights).toEqual(flights);
  expect((await read_code(texts[0]!))!.series).toBe('');
});

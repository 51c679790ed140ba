// Flights as a series of QR codes. Each code holds whole flights and is read for itself, so that the order does
// not matter, and one that is missed is missed alone.
//
// "PWF1 3/7 1f0a z..." : mark and version, which of how many, of which series (wanting in codes of older pages), then the rows as base64url, deflated ("z") or as they are
// ("t"). The rows are JSON, {"c": [columns], "r": [[values]]}; null is "not known".
import { digest } from './digest';
import { columns, tidy, type LoggedFlight } from './flight';

const mark = 'PWF1';
/** A code of this many letters is read off a phone's screen at arm's length. */
const most_letters = 400;

/** `series`: the same in all codes that were made together; "" where the page that made them has none. */
export type ReadCode = { number: number; of: number; series: string; flights: unknown[] };

function to_base64(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

function from_base64(text: string): Uint8Array<ArrayBuffer> {
  const bytes = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
  return Uint8Array.from(bytes, (letter) => letter.charCodeAt(0));
}

async function through(bytes: Uint8Array<ArrayBuffer>, stream: CompressionStream | DecompressionStream): Promise<Uint8Array<ArrayBuffer>> {
  return new Uint8Array(await new Response(new Blob([bytes]).stream().pipeThrough(stream)).arrayBuffer());
}

async function packed(flights: readonly LoggedFlight[]): Promise<string> {
  const filled = columns.filter(({ name }) => flights.some((flight) => flight[name] !== undefined)).map(({ name }) => name);
  const rows = flights.map((flight) => filled.map((name) => flight[name] ?? null));
  const bytes = new TextEncoder().encode(JSON.stringify({ c: filled, r: rows }));
  if (typeof CompressionStream === 'undefined') return `t${to_base64(bytes)}`;
  return `z${to_base64(await through(bytes, new CompressionStream('deflate-raw')))}`;
}

/** The texts of the codes, as few as will do. */
export async function code_texts(flights: readonly LoggedFlight[]): Promise<string[]> {
  const done: string[] = [];
  let group: LoggedFlight[] = [], text = '';
  for (const flight of flights.map(tidy)) {
    const longer = await packed([...group, flight]);
    if (group.length > 0 && longer.length > most_letters) {
      done.push(text);
      group = [flight];
      text = await packed(group);
    } else {
      group = [...group, flight];
      text = longer;
    }
  }
  if (group.length > 0) done.push(text);
  const series = digest(done.join(' ')).slice(0, 8);
  return done.map((each, at) => `${mark} ${at + 1}/${done.length} ${series} ${each}`);
}

/** Null: this is no code of flights. What it holds is judged where logs come in. */
export async function read_code(text: string): Promise<ReadCode | null> {
  const found = new RegExp(`^${mark} (\\d{1,4})/(\\d{1,4})(?: ([0-9a-f]{8}))? ([zt])([A-Za-z0-9_-]+)$`).exec(text);
  if (!found) return null;
  try {
    const bytes = from_base64(found[5]!);
    const plain = found[4] === 'z' ? await through(bytes, new DecompressionStream('deflate-raw')) : bytes;
    const table = JSON.parse(new TextDecoder().decode(plain)) as { c?: unknown; r?: unknown };
    if (!Array.isArray(table.c) || !Array.isArray(table.r)) return null;
    const names = table.c.map(String);
    const flights = table.r.map((row: unknown) => Object.fromEntries(names.flatMap((name, at) => {
      const value = Array.isArray(row) ? (row[at] as unknown) : null;
      return value === null || value === undefined ? [] : [[name, value]];
    })));
    return { number: Number(found[1]), of: Number(found[2]), series: found[3] ?? '', flights };
  } catch {
    return null;
  }
}

/** The codes seen so far, by the series they belong to. */
export type Seen = readonly { series: string; of: number; numbers: readonly number[] }[];

/** Codes of two phones are of two series, also where each has as many; codes of older pages are told apart by how many only. */
export function seen_with(seen: Seen, { series, of, number }: ReadCode): Seen {
  const mine = seen.find((each) => each.series === series && each.of === of) ?? { series, of, numbers: [] };
  const next = { ...mine, numbers: [...new Set([...mine.numbers, number])].sort((a, b) => a - b) };
  return [...seen.filter((each) => each !== mine), next];
}

export const wanting = ({ of, numbers }: Seen[number]): number[] => Array.from({ length: of }, (_, at) => at + 1).filter((number) => !numbers.includes(number));

const sum = (values: readonly number[]): number => values.reduce((all, value) => all + value, 0);

/** "2 of 3 codes read". */
export function read_words(seen: Seen): string {
  const of = sum(seen.map((each) => each.of));
  return `${sum(seen.map(({ numbers }) => numbers.length))} of ${of} ${of === 1 ? 'code' : 'codes'} read`;
}

/** What is still wanting, of each series. */
export function wanting_words(seen: Seen): string {
  if (seen.every((each) => wanting(each).length === 0)) return 'All of them are here.';
  const list = (each: Seen[number]) => wanting(each).slice(0, 20).join(', ');
  if (seen.length === 1) return `Still wanting: ${list(seen[0]!)}.`;
  return `These codes are of ${seen.length} series. ${seen.map((each, at) => `Series ${at + 1}, of ${each.of}: ${list(each) === '' ? 'all here' : `still wanting ${list(each)}`}.`).join(' ')}`;
}

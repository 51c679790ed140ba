// Reading and writing the job document by dotted field names, as the server's problems carry them:
// "hall.roof_height", "propeller.station[2].radius". Documents are never changed in place.
import type { JobTable, JobValue } from '../api/types';

type Step = string | number;

/** "propeller.station[2].radius" -> ["propeller", "station", 1, "radius"]: the rows of a field name count from 1. */
export function steps_of(path: string): Step[] {
  const steps: Step[] = [];
  for (const part of path.split('.')) {
    const match = /^([^[\]]+)((?:\[\d+\])*)$/.exec(part);
    if (!match?.[1]) throw new Error(`not a field name: ${path}`);
    steps.push(match[1]);
    for (const index of (match[2] ?? '').matchAll(/\[(\d+)\]/g)) steps.push(Number(index[1]) - 1);
  }
  return steps;
}

export function read(table: JobTable, path: string): JobValue | undefined {
  let here: unknown = table;
  for (const step of steps_of(path)) {
    if (here === null || typeof here !== 'object') return undefined;
    here = (here as Record<Step, unknown>)[step];
  }
  return here as JobValue | undefined;
}

function write_step(here: unknown, steps: Step[], value: JobValue | undefined): unknown {
  const [step, ...rest] = steps;
  if (step === undefined) return value;
  if (typeof step === 'number') {
    const rows = Array.isArray(here) ? [...here] : [];
    const next = write_step(rows[step], rest, value);
    if (next === undefined) rows.splice(step, 1);
    else rows[step] = next;
    return rows;
  }
  const table: Record<string, unknown> = here !== null && typeof here === 'object' && !Array.isArray(here) ? { ...here } : {};
  const next = write_step(table[step], rest, value);
  if (next === undefined) delete table[step];
  else table[step] = next;
  return table;
}

/** A copy with one field changed; `undefined` takes the field out, so that its default holds. */
export function write(table: JobTable, path: string, value: JobValue | undefined): JobTable {
  return write_step(table, steps_of(path), value) as JobTable;
}

/** Same content, whatever the order of names. */
export function same(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const left = Object.entries(a).filter(([, value]) => value !== undefined);
  const right = b as Record<string, unknown>;
  const right_names = Object.keys(right).filter((name) => right[name] !== undefined);
  return left.length === right_names.length && left.every(([name, value]) => same(value, right[name]));
}

export type Change = { field: string; from: JobValue | undefined; to: JobValue | undefined };

/** The fields in which two jobs differ, in the order of the second, then what it lacks. */
export function changes(from: JobTable, to: JobTable): Change[] {
  const flat = (value: JobValue, path: string, out: Map<string, JobValue>) => {
    if (Array.isArray(value)) value.forEach((row, index) => flat(row as JobValue, `${path}[${index + 1}]`, out));
    else if (typeof value === 'object') {
      for (const [name, part] of Object.entries(value)) flat(part, path ? `${path}.${name}` : name, out);
    } else out.set(path, value);
    return out;
  };
  const before = flat(from, '', new Map());
  const after = flat(to, '', new Map());
  const names = new Set([...after.keys(), ...before.keys()]);
  return [...names]
    .filter((name) => before.get(name) !== after.get(name))
    .map((field) => ({ field, from: before.get(field), to: after.get(field) }));
}

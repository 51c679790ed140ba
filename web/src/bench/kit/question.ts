// What is typed at the bench, made into the tables of a question: blanks left out, counts as numbers. Where a
// row of a list is left out, `Places` remembers which rows were sent, so that a problem finds its field again.
import type { JobTable, JobValue } from '../../api/types';
import { is_blank } from './blank';
import { count_of } from './say';

const counts = ['count', 'wraps', 'washers', 'arms', 'strands'];

/** Of a list by its dotted name: the places, from 1, of the rows that were sent. */
export type Places = ReadonlyMap<string, readonly number[]>;

function tidy(value: JobValue, name: string): JobValue | undefined {
  if (Array.isArray(value)) return value.map((row) => (typeof row === 'object' ? cleaned(row as JobTable) : row)) as JobValue;
  if (typeof value === 'object') return cleaned(value);
  return counts.includes(name) ? count_of(value) : value;
}

/** A copy without what is blank. Rows of lists all stay. */
export function cleaned(table: JobTable): JobTable {
  const next: JobTable = {};
  for (const [name, value] of Object.entries(table)) {
    if (value === undefined || is_blank(value)) continue;
    const kept = tidy(value, name);
    if (kept !== undefined) next[name] = kept;
  }
  return next;
}

export function part_of(section: JobTable, name: string): JobTable {
  const value = section[name];
  return value !== undefined && typeof value === 'object' && !Array.isArray(value) ? value : {};
}

export function rows_in(table: JobTable, name: string): JobTable[] {
  const rows = table[name];
  return Array.isArray(rows) ? (rows as JobTable[]) : [];
}

/** Rows in which this member was written, and their places. */
export function filled_rows(rows: readonly JobTable[], member: string): { rows: JobTable[]; places: number[] } {
  const places = rows.flatMap((row, index) => (is_blank(row[member]) ? [] : [index + 1]));
  return { rows: places.map((place) => cleaned(rows[place - 1]!)), places };
}

/** A blade as it is asked about; a radius not written is the usual one. `name` is that of the table in the question. */
export function blade_table(section: JobTable, id: string, radii: readonly string[], name: string): { table: JobTable; places: Map<string, number[]> } {
  const { notes: _notes, angles: _angles, camber: _camber, as_built: _as_built, ...rest } = part_of(section, 'blade');
  const table: JobTable = { ...cleaned(rest), id };
  const places = new Map<string, number[]>();
  for (const [list, member] of [['angles', 'angle'], ['camber', 'camber']] as const) {
    const with_radius = rows_in(part_of(section, 'blade'), list).map((row, index) => (is_blank(row.radius) && radii[index] ? { ...row, radius: radii[index] } : row));
    const kept = filled_rows(with_radius, member);
    places.set(`${name}.${list}`, kept.places);
    if (kept.rows.length > 0) table[list] = kept.rows as JobValue;
  }
  return { table, places };
}

/** The field as the pages number it: "blades[1].angles[2].angle" of the second row sent may be the third on the page. */
export function field_back(field: string, places: Places): string {
  for (const [list, rows] of places) {
    if (!field.startsWith(`${list}[`)) continue;
    const end = field.indexOf(']', list.length);
    const place = rows[Number(field.slice(list.length + 1, end)) - 1];
    if (place !== undefined) return `${list}[${place}]${field.slice(end + 1)}`;
  }
  return field;
}

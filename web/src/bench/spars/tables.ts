// Records of the bench by the one table that each kind holds: how the spars' pages see them. What goes
// over HTTP is the home of kit/records.ts.
import type { BenchKind, JobTable } from '../../api/types';
import { bench_records, type BenchFilter, type BenchRecord, type Links, type Overtaken } from '../kit/records';

/** Name of that table. */
const table_name = { batches: 'batch', spars: 'spar', rigs: 'rig' } as const satisfies Partial<Record<BenchKind, string>>;
type TableKind = keyof typeof table_name;

export type Kept<T> = Omit<BenchRecord, 'section'> & { table: T };

function kept<T>(kind: TableKind, { section, ...record }: BenchRecord): Kept<T> {
  return { ...record, table: (section[table_name[kind]] ?? {}) as T };
}

const content = <T>(kind: TableKind, name: string, table: T, links: Links) => ({
  name, links, section: { [table_name[kind]]: table } as unknown as JobTable,
});

/** What another tab or device wrote. */
export const theirs_of = <T>(kind: TableKind, error: Overtaken): Kept<T> => kept<T>(kind, error.theirs);

/** Every record of a kind by name, or those that hang on one other. */
export async function list_bench<T>(kind: TableKind, filter: BenchFilter = {}): Promise<Kept<T>[]> {
  return (await bench_records.list(kind, filter, 'name')).map((record) => kept<T>(kind, record));
}

export async function add_bench<T>(kind: TableKind, name: string, table: T, links: Links = {}): Promise<Kept<T>> {
  return kept<T>(kind, await bench_records.create(kind, content(kind, name, table, links)));
}

export async function change_bench<T>(kind: TableKind, record: Kept<T>, name: string, table: T, links = record.links): Promise<Kept<T>> {
  return kept<T>(kind, await bench_records.save(kind, record.id, record.etag, content(kind, name, table, links)));
}

/** Out of the usual lists, or back into them; nothing is deleted. */
export const put_away = <T>(kind: TableKind, record: Kept<T>): Promise<BenchRecord> => bench_records.put_away(kind, record);

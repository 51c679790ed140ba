// Records of the bench over HTTP: what they hold is one table, named after the kind. Every write carries
// the ETag its record was read with, so that nothing is overwritten that this page has not seen.
import { answer, client, Refused, type Answer } from '../api/client';
import type { BenchKind, JobTable, StockRecord } from '../api/types';

/** Name of the one table in a record of each kind. */
export const bench_table: Record<BenchKind, string> = {
  batches: 'batch', spars: 'spar', rigs: 'rig', blades: 'blade', propellers: 'propeller', weights: 'weight', stocks: 'stock', hubs: 'hub',
};

export type Kept<T> = {
  id: string;
  name: string;
  etag: string;
  archived: boolean;
  updated_at: string;
  links: Record<string, string>;
  table: T;
};

/** The record is not what this page last saw of it: somebody else wrote in between. */
export class Overtaken<T> extends Error {
  constructor(readonly theirs: Kept<T>) {
    super('This was changed elsewhere in the meantime.');
  }
}

function kept<T>(kind: BenchKind, record: StockRecord, etag: string | null = null): Kept<T> {
  const { id, name, archived, updated_at, links } = record;
  return { id, name, archived, updated_at, links, etag: etag ?? record.etag, table: (record.section[bench_table[kind]] ?? {}) as T };
}

async function guarded<T>(kind: BenchKind, request: Promise<Answer<StockRecord>>): Promise<Kept<T>> {
  try {
    const { body, etag } = await request;
    return kept<T>(kind, body, etag);
  } catch (error) {
    if (error instanceof Refused && error.status === 412) {
      throw new Overtaken<T>(kept<T>(kind, (error.body as { present: StockRecord }).present));
    }
    throw error;
  }
}

export type BenchFilter = { archived?: 'false' | 'true'; batch_id?: string; spar_id?: string };

const most = 1000;

/** Every record of a kind, or those that hang on one other. */
export async function list_bench<T>(kind: BenchKind, { archived = 'false', ...links }: BenchFilter = {}): Promise<Kept<T>[]> {
  const all: StockRecord[] = [];
  for (;;) {
    const query = { limit: most, offset: all.length, sort: 'name', archived, ...links } as const;
    const { body } = await answer(client.GET('/api/{kind}', { params: { path: { kind }, query } }));
    all.push(...body.items);
    if (all.length >= body.total || body.items.length === 0) break;
  }
  return all.map((record) => kept<T>(kind, record));
}

const content = <T>(kind: BenchKind, name: string, table: T, links: Record<string, string>) => ({
  name, links, section: { [bench_table[kind]]: table } as unknown as JobTable,
});

export const add_bench = <T>(kind: BenchKind, name: string, table: T, links: Record<string, string> = {}): Promise<Kept<T>> =>
  guarded<T>(kind, answer(client.POST('/api/{kind}', { params: { path: { kind } }, body: content(kind, name, table, links) })));

export const change_bench = <T>(kind: BenchKind, record: Kept<T>, name: string, table: T, links = record.links): Promise<Kept<T>> =>
  guarded<T>(kind, answer(client.PUT('/api/{kind}/{id}', {
    params: { path: { kind, id: record.id }, header: { 'If-Match': record.etag } },
    body: content(kind, name, table, links),
  })));

/** Out of the usual lists, or back into them; nothing is deleted. */
export function put_away<T>(kind: BenchKind, record: Kept<T>): Promise<Kept<T>> {
  const params = { path: { kind, id: record.id }, header: { 'If-Match': record.etag } };
  return guarded<T>(kind, answer(record.archived
    ? client.POST('/api/{kind}/{id}/restore', { params })
    : client.POST('/api/{kind}/{id}/archive', { params })));
}

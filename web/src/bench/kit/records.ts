// Records of the bench and the floor over HTTP: what lies on the shelf, spars, blades, rubber, meters. Every
// write carries the ETag its record was read with, so that nothing is overwritten that this tab has not seen.
import { answer, client, Refused, type Answer } from '../../api/client';
import type { JobTable, KeptKind } from '../../api/types';

export type Links = { [name: string]: string };
/** `curve_csv`: of rubber only. */
export type Content = { name: string; section: JobTable; links: Links; curve_csv?: string };
export type BenchFilter = { archived?: 'false' | 'true' | 'all'; batch_id?: string; spar_id?: string; propeller_id?: string };
export type BenchRecord = Content & { id: string; etag: string; archived: boolean; updated_at: string };

/** The record is not what this tab last saw of it: it was written elsewhere in between. */
export class Overtaken extends Error {
  constructor(readonly theirs: BenchRecord) {
    super('This record was written from another tab in the meantime.');
  }
}

const most = 1000;
const path = (kind: KeptKind, id: string) => ({ kind, id });

function record_of({ body, etag }: Answer<unknown>): BenchRecord {
  const record = body as BenchRecord;
  return { ...record, etag: etag ?? record.etag };
}

async function guarded(request: Promise<Answer<unknown>>): Promise<BenchRecord> {
  try {
    return record_of(await request);
  } catch (error) {
    if (error instanceof Refused && error.status === 412) throw new Overtaken((error.body as { present: BenchRecord }).present);
    throw error;
  }
}

export const bench_records = {
  /** All of them, newest first or by name; of those that hang on one other record where that is given. */
  async list(kind: KeptKind, of: BenchFilter = {}, sort: '-updated_at' | 'name' = '-updated_at'): Promise<BenchRecord[]> {
    const all: BenchRecord[] = [];
    for (;;) {
      const query = { limit: most, offset: all.length, sort, ...of } as const;
      const { body } = await answer(client.GET('/api/{kind}', { params: { path: { kind }, query } }));
      all.push(...(body.items as BenchRecord[]));
      if (all.length >= body.total || body.items.length === 0) return all;
    }
  },

  async get(kind: KeptKind, id: string): Promise<BenchRecord> {
    return record_of(await answer(client.GET('/api/{kind}/{id}', { params: { path: path(kind, id) } })));
  },

  async create(kind: KeptKind, content: Content): Promise<BenchRecord> {
    return record_of(await answer(client.POST('/api/{kind}', { params: { path: { kind } }, body: content })));
  },

  save: (kind: KeptKind, id: string, etag: string, content: Content) =>
    guarded(answer(client.PUT('/api/{kind}/{id}', { params: { path: path(kind, id), header: { 'If-Match': etag } }, body: content }))),

  /** Off the bench, or back on it; nothing is deleted. */
  put_away(kind: KeptKind, { id, etag, archived }: Pick<BenchRecord, 'id' | 'etag' | 'archived'>): Promise<BenchRecord> {
    const params = { path: path(kind, id), header: { 'If-Match': etag } };
    return guarded(archived ? answer(client.POST('/api/{kind}/{id}/restore', { params })) : answer(client.POST('/api/{kind}/{id}/archive', { params })));
  },
};

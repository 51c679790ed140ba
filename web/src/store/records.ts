// Designs of the workshop over HTTP. Every write carries the ETag its record was read with, so that
// nothing is overwritten that this tab has not seen.
import { answer, client, Refused, type Answer } from '../api/client';
import type { DesignDocument, DesignPage, DesignRecord, DesignVersion } from '../api/types';
import type { RecordRef } from './design.svelte';
import { titled } from './titles';

export type Opened = { document: DesignDocument; record: RecordRef; versions: DesignVersion[] };
export type DesignQuery = { q: string; archived: 'false' | 'true' | 'all'; sort: string; offset: number; limit: number };

function opened({ body, etag }: { body: DesignRecord; etag?: string | null }): Opened {
  return {
    document: titled(body.document, body.name, body.version),
    record: { id: body.id, name: body.name, version: body.version, built: body.built, etag: etag ?? body.etag },
    versions: body.versions,
  };
}

/** The record is not what this tab last saw of it: somebody else saved in between. */
export class Overtaken extends Error {
  constructor(readonly theirs: Opened) {
    super('This design was saved from another tab in the meantime.');
  }
}

async function guarded(request: Promise<Answer<DesignRecord>>): Promise<Opened> {
  try {
    return opened(await request);
  } catch (error) {
    if (error instanceof Refused && error.status === 412) {
      const { present } = error.body as { present: DesignRecord };
      throw new Overtaken(opened({ body: present }));
    }
    throw error;
  }
}

const match = (etag: string | null) => ({ 'If-Match': etag ?? '' });

export const records = {
  async page(query: DesignQuery): Promise<DesignPage> {
    return (await answer(client.GET('/api/designs', { params: { query } }))).body;
  },

  async open(id: string): Promise<Opened> {
    return opened(await answer(client.GET('/api/designs/{id}', { params: { path: { id } } })));
  },

  /** One version; `name` is the design's, which holds for all of them. */
  async version(id: string, n: number, name: string): Promise<DesignDocument> {
    const { body } = await answer(client.GET('/api/designs/{id}/versions/{n}', { params: { path: { id, n } } }));
    return titled(body.document, name, n);
  },

  async create(name: string, document: DesignDocument, note: string): Promise<Opened> {
    return opened(await answer(client.POST('/api/designs', { body: { name, document, note } })));
  },

  /** Changes the newest version while it is not built; makes a new one once it is. */
  save: ({ id, etag }: RecordRef, name: string, document: DesignDocument, note: string) =>
    guarded(answer(client.PUT('/api/designs/{id}', { params: { path: { id }, header: match(etag) }, body: { name, document, note } }))),

  /** Always a new version. */
  save_as_version: ({ id, etag }: RecordRef, name: string, document: DesignDocument, note: string) =>
    guarded(answer(client.POST('/api/designs/{id}/versions', { params: { path: { id }, header: match(etag) }, body: { name, document, note } }))),

  async duplicate(id: string, name: string): Promise<Opened> {
    return opened(await answer(client.POST('/api/designs/{id}/duplicate', { params: { path: { id } }, body: { name } })));
  },

  archive: (id: string, etag: string) => guarded(answer(client.POST('/api/designs/{id}/archive', { params: { path: { id }, header: match(etag) } }))),
  restore: (id: string, etag: string) => guarded(answer(client.POST('/api/designs/{id}/restore', { params: { path: { id }, header: match(etag) } }))),
  built: ({ id, etag }: RecordRef, version: number) =>
    guarded(answer(client.POST('/api/designs/{id}/built', { params: { path: { id }, header: match(etag) }, body: { version } }))),
};

// Designs of the workshop over HTTP. Every write carries the ETag its record was read with, so that
// nothing is overwritten that this tab has not seen.
import { call, Refused } from '../api/client';
import type { DesignDocument, DesignRecord, DesignSummary, DesignVersion, RecordPage } from '../api/types';
import type { RecordRef } from './design.svelte';

export type Opened = { document: DesignDocument; record: RecordRef; versions: DesignVersion[] };

const at = (id: string, rest = '') => `/api/designs/${encodeURIComponent(id)}${rest}`;

function opened(body: DesignRecord, etag: string | null): Opened {
  return {
    document: body.document,
    record: { id: body.id, name: body.name, version: body.version, etag: etag ?? body.etag ?? null },
    versions: body.versions,
  };
}

/** The record is not what this tab last saw of it: somebody else saved in between. */
export class Overtaken extends Error {
  constructor(readonly theirs: Opened) {
    super('This design was saved from another tab in the meantime.');
  }
}

async function guarded<T>(id: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof Refused && error.status === 412) throw new Overtaken(await records.open(id));
    throw error;
  }
}

export const records = {
  async page(query: { q: string; archived: string; sort: string; offset: number; limit: number }): Promise<RecordPage<DesignSummary>> {
    const text = new URLSearchParams(Object.entries(query).map(([name, value]) => [name, String(value)]));
    return (await call<RecordPage<DesignSummary>>(`/api/designs?${text}`)).body;
  },

  async open(id: string): Promise<Opened> {
    const { body, etag } = await call<DesignRecord>(at(id));
    return opened(body, etag);
  },

  async version(id: string, version: number): Promise<DesignDocument> {
    const { body } = await call<DesignDocument | { document: DesignDocument }>(at(id, `/versions/${version}`));
    return 'document' in body ? body.document : body;
  },

  async create(name: string, document: DesignDocument, note: string): Promise<Opened> {
    const made = await call<DesignRecord>('/api/designs', { method: 'POST', body: { name, document, note } });
    return opened(made.body, made.etag);
  },

  /** Changes the newest version while it is not built; makes a new one once it is. */
  save(record: RecordRef, name: string, document: DesignDocument, note: string): Promise<Opened> {
    return guarded(record.id, async () => {
      const { body, etag } = await call<DesignRecord>(at(record.id), { method: 'PUT', etag: record.etag, body: { name, document, note } });
      return opened(body, etag);
    });
  },

  /** Always a new version. */
  save_as_version(record: RecordRef, name: string, document: DesignDocument, note: string): Promise<Opened> {
    return guarded(record.id, async () => {
      const { body, etag } = await call<DesignRecord>(at(record.id, '/versions'), {
        method: 'POST', etag: record.etag, body: { name, document, note },
      });
      return opened(body, etag);
    });
  },

  async duplicate(id: string, name: string): Promise<Opened> {
    const { body, etag } = await call<DesignRecord>(at(id, '/duplicate'), { method: 'POST', body: { name } });
    return opened(body, etag);
  },

  archive: (id: string, etag: string) => guarded(id, () => call(at(id, '/archive'), { method: 'POST', etag, body: {} })),
  restore: (id: string, etag: string) => guarded(id, () => call(at(id, '/restore'), { method: 'POST', etag, body: {} })),
  built: (record: RecordRef, version: number) =>
    guarded(record.id, () => call(at(record.id, '/built'), { method: 'POST', etag: record.etag, body: { version } })),
};

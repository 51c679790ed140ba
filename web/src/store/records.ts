// The workshop's records over HTTP, each write with the ETag it was read with.
import { call } from '../api/client';
import type { DesignDocument } from '../api/types';
import type { RecordRef } from './design.svelte';

export type DesignVersion = { version: number; saved_at: string; built_at: string | null; note: string; duration_s: number | null };
export type DesignRecord = {
  id: string;
  name: string;
  version: number;
  archived: boolean;
  document: DesignDocument;
  versions: DesignVersion[];
};

function reference(body: DesignRecord, etag: string | null): RecordRef {
  return { id: body.id, name: body.name, version: body.version, etag };
}

export const records = {
  async open_design(id: string): Promise<{ document: DesignDocument; record: RecordRef; versions: DesignVersion[] }> {
    const { body, etag } = await call<DesignRecord>(`/api/designs/${encodeURIComponent(id)}`);
    return { document: body.document, record: reference(body, etag), versions: body.versions };
  },
};

// Halls, models, rubber batches and motors of the workshop: which part of the job each fills.
import { call } from '../api/client';
import type { DesignDocument, JobTable, RecordPage, RecordSummary } from '../api/types';

export type StockKind = 'halls' | 'models' | 'rubbers' | 'motors';
export type StockRecord = RecordSummary & { section: JobTable; curve_csv?: string };

const tables: Record<StockKind, string[]> = {
  halls: ['hall', 'air'],
  models: ['model'],
  rubbers: ['rubber'],
  motors: ['motor'],
};

export const stock_words: Record<StockKind, { one: string; many: string }> = {
  halls: { one: 'hall', many: 'halls' },
  models: { one: 'model', many: 'models' },
  rubbers: { one: 'batch', many: 'batches' },
  motors: { one: 'motor', many: 'motors' },
};

/** The part of the document a record of this kind keeps. */
export function section_of(document: DesignDocument, kind: StockKind): { section: JobTable; curve_csv?: string } {
  const section: JobTable = {};
  for (const table of tables[kind]) {
    const value = document.job[table];
    if (value !== undefined) section[table] = value;
  }
  const curve = document.attachments?.rubber_test_csv;
  return kind === 'rubbers' && curve ? { section, curve_csv: curve } : { section };
}

/** The document with that part replaced by a record's. */
export function filled(document: DesignDocument, kind: StockKind, record: Pick<StockRecord, 'section' | 'curve_csv'>): DesignDocument {
  const job: JobTable = { ...document.job };
  for (const table of tables[kind]) {
    const value = record.section[table];
    if (value !== undefined) job[table] = value;
    else if (table !== 'air') delete job[table];
  }
  if (kind !== 'rubbers') return { ...document, job };
  return { job, attachments: { ...document.attachments, rubber_test_csv: record.curve_csv ?? '' } };
}

export async function list_stock(kind: StockKind, q: string): Promise<RecordPage<RecordSummary>> {
  const query = new URLSearchParams({ q, limit: '50' });
  return (await call<RecordPage<RecordSummary>>(`/api/${kind}?${query}`)).body;
}

export async function get_stock(kind: StockKind, id: string): Promise<StockRecord> {
  const { body, etag } = await call<StockRecord>(`/api/${kind}/${encodeURIComponent(id)}`);
  return { ...body, etag: etag ?? body.etag };
}

export async function keep_stock(kind: StockKind, name: string, document: DesignDocument): Promise<void> {
  await call(`/api/${kind}`, { method: 'POST', body: { name, ...section_of(document, kind) } });
}

export async function change_stock(kind: StockKind, record: StockRecord, name: string, document: DesignDocument): Promise<void> {
  await call(`/api/${kind}/${encodeURIComponent(record.id)}`, {
    method: 'PUT',
    etag: record.etag,
    body: { name, ...section_of(document, kind) },
  });
}

// Halls, models, rubber batches and motors of the workshop: which part of the job each fills.
import { answer, api, client } from '../api/client';
import { is_blank } from '../bench/kit/blank';
import { batch_question } from '../floor/rubber/batch';
import type { DesignDocument, JobTable, JobValue, StockKind, StockPage, StockRecord } from '../api/types';

const tables: Record<StockKind, string[]> = {
  halls: ['hall', 'air'],
  models: ['model', 'rules'],
  rubbers: ['rubber'],
  motors: ['motor'],
};

export const stock_words: Record<StockKind, { one: string; many: string }> = {
  halls: { one: 'hall', many: 'halls' },
  models: { one: 'model', many: 'models' },
  rubbers: { one: 'batch', many: 'batches' },
  motors: { one: 'motor', many: 'motors' },
};

export type StockContent = { section: JobTable; curve_csv?: string };

/** The part of the document a record of this kind keeps. */
export function section_of(document: DesignDocument, kind: StockKind): StockContent {
  const section: JobTable = {};
  for (const table of tables[kind]) {
    const value = document.job[table];
    if (value !== undefined) section[table] = value;
  }
  const curve = document.attachments?.rubber_test_csv;
  return kind === 'rubbers' && curve ? { section, curve_csv: curve } : { section };
}

/** A motor says nothing of the spacer that a part of a motor is set up with, unless its record does: the job's stays. */
function with_spacer(taken: JobValue, own: JobValue | undefined): JobValue {
  if (!is_table(taken) || !is_table(own) || taken.spacer_mass !== undefined || own.spacer_mass === undefined) return taken;
  return { ...taken, spacer_mass: own.spacer_mass };
}

const is_table = (value: unknown): value is JobTable => typeof value === 'object' && value !== null && !Array.isArray(value);

/** The document with that part replaced by a record's. */
export function filled(document: DesignDocument, kind: StockKind, record: StockContent): DesignDocument {
  const job: JobTable = { ...document.job };
  const [main, ...others] = tables[kind];
  for (const table of [main!, ...others]) {
    const value = record.section[table];
    if (value !== undefined) job[table] = kind === 'motors' ? with_spacer(value, document.job.motor) : value;
    else if (table === main) delete job[table];
  }
  if (kind !== 'rubbers') return { ...document, job };
  return { job, attachments: { ...document.attachments, rubber_test_csv: record.curve_csv ?? '' } };
}

export async function list_stock(kind: StockKind, q: string): Promise<StockPage> {
  return (await answer(client.GET('/api/{kind}', { params: { path: { kind }, query: { q, limit: 50 } } }))).body;
}

export async function get_stock(kind: StockKind, id: string): Promise<StockRecord> {
  const { body, etag } = await answer(client.GET('/api/{kind}/{id}', { params: { path: { kind, id } } }));
  return { ...body, etag: etag ?? body.etag };
}

/**
 * A motor whose strip was not measured has that of its batch, where the batch's bench tests measured it; with no batch,
 * or none measured, the job's default stands for it here as everywhere.
 */
export async function with_strip(record: StockRecord): Promise<StockRecord> {
  const motor = record.section.motor, batch_id = record.links.rubber_id;
  if (!batch_id || !is_table(motor) || !is_blank(motor.strip_thickness)) return record;
  const batch = await get_stock('rubbers', batch_id).catch(() => null);
  const asked = batch && batch_question(batch);
  if (!asked) return record;
  const { body } = await api.rubber({ units: 'metric', batch: asked.table });
  const thickness = body.batch?.strip_thickness_m;
  if (typeof thickness !== 'number') return record;
  return { ...record, section: { ...record.section, motor: { ...motor, strip_thickness: `${Number((1000 * thickness).toPrecision(6))} mm` } } };
}

export async function keep_stock(kind: StockKind, name: string, document: DesignDocument): Promise<void> {
  await answer(client.POST('/api/{kind}', { params: { path: { kind } }, body: { name, ...section_of(document, kind) } }));
}

/** What a record becomes: what the floor keeps in it beside its part of the job, tests, winds, links, stays. */
export function changed(document: DesignDocument, kind: StockKind, record: Pick<StockRecord, 'section' | 'links'>): StockContent & { links: StockRecord['links'] } {
  const { section, ...rest } = section_of(document, kind);
  const others = Object.fromEntries(Object.entries(record.section).filter(([table]) => !tables[kind].includes(table)));
  return { section: { ...others, ...section }, ...rest, links: record.links };
}

export async function change_stock(kind: StockKind, record: StockRecord, name: string, document: DesignDocument): Promise<void> {
  await answer(
    client.PUT('/api/{kind}/{id}', {
      params: { path: { kind, id: record.id }, header: { 'If-Match': record.etag } },
      body: { name, ...changed(document, kind, record) },
    }),
  );
}

// The form shelf over HTTP: forms the builder owns, and cylinders to form blades on.
import { answer, client } from '../api/client';
import type { JobTable, ShelfKind, StockRecord } from '../api/types';

/** Name of the one table in a record of each kind. */
export const shelf_table: Record<ShelfKind, string> = { forms: 'form', cylinders: 'cylinder' };

export async function list_shelf(kind: ShelfKind, archived: 'false' | 'true' = 'false'): Promise<StockRecord[]> {
  const query = { limit: 1000, sort: 'name', archived } as const;
  return (await answer(client.GET('/api/{kind}', { params: { path: { kind }, query } }))).body.items;
}

/** Adds a record, or changes the one that is given. */
export async function keep_on_shelf(kind: ShelfKind, record: StockRecord | null, name: string, table: JobTable): Promise<void> {
  const body = { name, section: { [shelf_table[kind]]: table } };
  if (!record) {
    await answer(client.POST('/api/{kind}', { params: { path: { kind } }, body }));
    return;
  }
  const params = { path: { kind, id: record.id }, header: { 'If-Match': record.etag } };
  await answer(client.PUT('/api/{kind}/{id}', { params, body }));
}

/** Off the shelf, or back on it; nothing is deleted. */
export async function put_away(kind: ShelfKind, record: StockRecord): Promise<void> {
  const params = { path: { kind, id: record.id }, header: { 'If-Match': record.etag } };
  if (record.archived) await answer(client.POST('/api/{kind}/{id}/restore', { params }));
  else await answer(client.POST('/api/{kind}/{id}/archive', { params }));
}

/** The table of a record as texts that fields can hold. */
export function texts_of(kind: ShelfKind, record: StockRecord): Record<string, string> {
  const table = record.section[shelf_table[kind]];
  if (typeof table !== 'object' || Array.isArray(table)) return {};
  return Object.fromEntries(Object.entries(table).map(([name, value]) => [name, String(value)]));
}

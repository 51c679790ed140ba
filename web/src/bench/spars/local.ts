// What of the bench is kept in this browser: entries the workshop has not taken yet, the row being
// typed, and what can be undone. Storage may be switched off: nothing is kept then, and nothing fails.
import type { SparText } from '../../api/types';
import type { Kept } from './tables';
import type { EntryMode, EntryTexts } from './entry';

/** A spar of the batch; `record` is what the workshop has of it, null for one it has not yet. */
export type Row = { key: string; record: Kept<SparText> | null; spar: SparText; unsaved: boolean };
export type Undo = { key: string; id: string; before: SparText | null };
export type TypedRow = { texts: EntryTexts; mode: EntryMode; touched: boolean };
export type LocalBatch = { unsaved?: Row[]; typed?: TypedRow | null; undo?: Undo[] };

const key_of = (batch_id: string) => `propwright-bench-${batch_id}`;
const open_key = 'propwright-bench-open';

export function local_batch(batch_id: string): LocalBatch {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(key_of(batch_id)) ?? '{}');
    return kept !== null && typeof kept === 'object' ? (kept as LocalBatch) : {};
  } catch {
    return {};
  }
}

export function keep_local(batch_id: string, change: LocalBatch): void {
  try {
    localStorage.setItem(key_of(batch_id), JSON.stringify({ ...local_batch(batch_id), ...change }));
  } catch {
    // As above.
  }
}

export function opened_last(): string | null {
  try {
    return localStorage.getItem(open_key);
  } catch {
    return null;
  }
}

export function keep_opened(batch_id: string): void {
  try {
    localStorage.setItem(open_key, batch_id);
  } catch {
    // As above.
  }
}

// The ledger in hand as a question, and its rows as the page shows them: the plan's parts and the builder's own.
import type { BenchQuestion, Ledger, LedgerRow } from '../../api/bench';
import type { JobTable, JobValue } from '../../api/types';
import { design } from '../../store/design.svelte';
import { live } from '../../store/live.svelte';
import { instruments } from '../blades/pair.svelte';
import { assembly } from '../kit/assembly.svelte';
import { is_blank } from '../kit/blank';
import { cleaned, filled_rows, part_of, rows_in } from '../kit/question';

export const ledger_table = (): JobTable => part_of(assembly.ledger.section, 'ledger');
export const typed_parts = (): JobTable[] => rows_in(ledger_table(), 'parts');

export type Asked = { question: BenchQuestion; places: Map<string, number[]> };

/** Planned masses and seconds come from the design, where it flies. */
export function ledger_question(): Asked {
  const flies = live.flight !== null && !live.stale;
  const kept = filled_rows(typed_parts(), 'part');
  const model_mass = ledger_table().model_mass;
  const ledger: JobTable = { parts: kept.rows as JobValue, ...(is_blank(model_mass) ? {} : { model_mass: model_mass! }) };
  const relative = live.sensitivities?.relative_sigma;
  return {
    question: {
      ...(flies ? { job: design.document.job, attachments: design.document.attachments ?? {} } : {}),
      ...(flies && relative !== undefined ? { relative_sigma: relative } : {}),
      units: design.profile,
      instruments: instruments(),
      ledger,
    },
    places: new Map([['ledger.parts', kept.places]]),
  };
}

export type ShownRow = { key: string; part: string; place: number | null; row: LedgerRow | null };

/** Rows of the answer, each with its place among what was typed; what was typed since stands at the end. */
export function shown_rows(ledger: Ledger | null): ShownRow[] {
  const rows: Omit<ShownRow, 'key'>[] = (ledger?.rows ?? []).map((row) => ({ part: row.part, place: place_of(row.part), row }));
  const shown = new Set(rows.map((each) => each.place));
  typed_parts().forEach((row, index) => {
    if (!shown.has(index + 1)) rows.push({ part: String(row.part ?? ''), place: index + 1, row: null });
  });
  return rows.map((row, index) => ({ ...row, key: rows.findIndex((each) => each.part === row.part) === index ? row.part : `${row.part} ${index}` }));
}

/** Where a part stands among what was typed, from 1; null where nothing of it was. */
export function place_of(part: string): number | null {
  const index = typed_parts().findIndex((row) => String(row.part ?? '').trim().toLowerCase() === part.trim().toLowerCase());
  return index < 0 ? null : index + 1;
}

/** Writes one entry of a part; a part of the plan gets its row with the first. */
export function set_part(part: string, name: string, text: string): void {
  const place = place_of(part);
  const at = place ?? typed_parts().length + 1;
  if (place === null) assembly.ledger.set(`ledger.parts[${at}]`, { part });
  assembly.ledger.set(`ledger.parts[${at}].${name}`, text);
}

/** What several parts together weigh, by part; a design of weighings names what lies on the scale. */
export function weighings_question(): Asked | null {
  const table = part_of(ledger_table(), 'weighings');
  const together = filled_rows(rows_in(table, 'together'), 'reading');
  const design_rows = filled_rows(rows_in(table, 'design'), 'reading');
  const { together: _together, design: _design, ...rest } = table;
  const others = cleaned(rest);
  if (together.rows.length === 0 && design_rows.rows.length === 0 && is_blank(others)) return null;
  const weighings: JobTable = { ...others };
  if (together.rows.length > 0) weighings.together = together.rows as JobValue;
  if (design_rows.rows.length > 0) weighings.design = design_rows.rows.map((row) => ({ ...signed_parts(String(row.parts ?? '')), reading: row.reading ?? '' })) as unknown as JobValue;
  return {
    question: { units: design.profile, instruments: instruments(), weighings },
    places: new Map([['weighings.together', together.places], ['weighings.design', design_rows.places]]),
  };
}

/** "A + B - C": what lies on the scale, and what was taken off. */
export function signed_parts(text: string): { on: string[]; off: string[] } {
  const on: string[] = [], off: string[] = [];
  for (const match of text.matchAll(/([-\u2212+,]?)\s*([^-\u2212+,]+)/g)) {
    const name = match[2]!.trim();
    if (name !== '') (match[1] === '-' || match[1] === '\u2212' ? off : on).push(name);
  }
  return { on, off };
}

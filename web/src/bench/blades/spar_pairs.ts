// The pairs of a batch of spars in the workshop, as the server finds them.
import { answer, client } from '../../api/client';
import type { components } from '../../../generated/schema';
import type { JobTable, Problem, Profile } from '../../api/types';
import { part_of } from '../kit/question';
import { bench_records, type BenchRecord } from '../kit/records';

export type SparPair = components['schemas']['SparPair'];
export type FoundPairs = { pairs: SparPair[]; problems: Problem[]; records: Map<string, string> };

const settings = ['size_sigma', 'mass_sigma', 'tolerance', 'minimum_size', 'step', 'keep_pairs'] as const;

/** The question of a batch from its record and its spars'. */
export function spars_question(batch: JobTable, rig: JobTable, spars: JobTable[], units: Profile): JobTable {
  const table = part_of(batch, 'batch');
  const kept = Object.fromEntries(settings.flatMap((name) => (table[name] === undefined ? [] : [[name, table[name]!]])));
  return { ...kept, rig, units, spars: spars.map((section) => part_of(section, 'spar')) } as JobTable;
}

export async function pairs_of(batch: BenchRecord, units: Profile): Promise<FoundPairs> {
  const spars = await bench_records.list('spars', { batch_id: batch.id });
  const own = part_of(part_of(batch.section, 'batch'), 'rig');
  const rig_id = batch.links.rig_id;
  const rig = Object.keys(own).length > 0 || !rig_id ? own : part_of((await bench_records.get('rigs', rig_id)).section, 'rig');
  const body = spars_question(batch.section, rig, spars.map((record) => record.section), units);
  const { body: told } = await answer(client.POST('/api/bench/spars', { body: body as never }));
  const records = new Map(spars.map((record) => [String(part_of(record.section, 'spar').id ?? record.name), record.id]));
  return { pairs: told.pairs, problems: told.problems, records };
}

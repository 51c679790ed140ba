// A spar of the workshop as the replacement's question takes it: sizes and mass as last told, the readings of
// the last state that was read.
import type { JobTable } from '../../api/types';
import { is_blank } from '../kit/blank';
import { part_of, rows_in } from '../kit/question';

const sizes = ['root_width', 'root_depth', 'tip_width', 'tip_depth', 'corner_radius', 'mass'];

/** The rig is that of the reading, else the batch's own, else the one the batch is linked to. */
export function survivor_spar(section: JobTable, batch_section: JobTable, rig_section: JobTable = {}): { spar: JobTable; rig?: JobTable } {
  const text = part_of(section, 'spar');
  const states = rows_in(text, 'states');
  const spar: JobTable = {};
  if (!is_blank(text.shape)) spar.shape = String(text.shape);
  if (!is_blank(text.length)) spar.length = text.length!;
  for (const name of sizes) {
    const last = states.map((state) => state[name]).filter((value) => !is_blank(value)).at(-1);
    if (last !== undefined) spar[name] = last;
  }
  const read = states.filter((state) => !is_blank(state.reading_0) || !is_blank(state.reading_90)).at(-1);
  for (const name of ['reading_0', 'reading_90']) if (read && !is_blank(read[name])) spar[name] = read[name]!;
  const own = read && !is_blank(read.rig) ? part_of(read, 'rig') : part_of(part_of(batch_section, 'batch'), 'rig');
  const rig = is_blank(own) ? part_of(rig_section, 'rig') : own;
  return Object.keys(rig).length > 0 ? { spar, rig } : { spar };
}

// The hub in hand as questions: the tube rolled for it, its parts and alignment, and what shakes.
import type { BenchQuestion } from '../../api/bench';
import type { JobTable } from '../../api/types';
import { design } from '../../store/design.svelte';
import { live } from '../../store/live.svelte';
import { instruments, pair_question, propeller_table, wanting, type Asked } from '../blades/pair.svelte';
import { assembly } from '../kit/assembly.svelte';
import { is_blank } from '../kit/blank';
import { cleaned, part_of } from '../kit/question';

/** Bare sizes of tissue in use at the bench, taken until the builder says otherwise; shown in the fields. */
export const tube_of = (): JobTable => part_of(part_of(assembly.hub.section, 'hub'), 'tube');

/** A tube can be reckoned once there is a wire or a spar root, and the paper is known. */
export function tube_question(): BenchQuestion | null {
  const { by, ...rest } = tube_of();
  const tube = cleaned(rest);
  if (is_blank(tube)) return null;
  for (const other of by === 'wire' ? ['spar_root', 'spar_shape', 'fit'] : ['mandrel']) delete tube[other];
  if (is_blank(tube.mandrel) && is_blank(tube.spar_root)) return null;
  return { units: design.profile, instruments: instruments(), tube };
}

export const hub_table = (): JobTable => {
  const { tube: _tube, ...rest } = part_of(assembly.hub.section, 'hub');
  return cleaned(rest);
};

/** How unlike the two spars of the propeller are, as its pair said. */
function spar_mismatch(): JobTable {
  const spars = propeller_table('spars');
  return is_blank(spars.mismatch) ? {} : { spar_mismatch: spars.mismatch!, ...(is_blank(spars.mismatch_sigma) ? {} : { spar_sigma: spars.mismatch_sigma! }) };
}

/** Hub and shaking together; the blades go along where they can be laid side by side. */
export function shaking_question(): Asked {
  const pair = wanting().length === 0 ? pair_question() : null;
  const flies = live.flight !== null && !live.stale;
  const question: BenchQuestion = {
    ...(flies ? { job: design.document.job, attachments: design.document.attachments ?? {} } : {}),
    ...(pair?.question ?? {}),
    units: design.profile,
    instruments: instruments(),
    hub: hub_table(),
    shaking: { ...spar_mismatch(), ...cleaned(propeller_table('shaking')) },
  };
  return { question, places: pair?.places ?? new Map() };
}

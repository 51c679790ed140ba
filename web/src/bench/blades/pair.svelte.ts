// The two blades in hand as one question, and what is still to be measured before they can be judged.
import type { BenchQuestion } from '../../api/bench';
import type { JobTable } from '../../api/types';
import { design } from '../../store/design.svelte';
import { live } from '../../store/live.svelte';
import { assembly } from '../kit/assembly.svelte';
import { is_blank } from '../kit/blank';
import type { Kept } from '../kit/kept.svelte';
import { blade_table, cleaned, part_of, rows_in } from '../kit/question';
import { usual_radii } from './radii';

export type Which = 'a' | 'b';
export const both: { key: Which; id: string; place: number }[] = [{ key: 'a', id: 'A', place: 1 }, { key: 'b', id: 'B', place: 2 }];

/** Radii in force: what stands with either blade's readings, else the usual ones of the design. */
export function radii_in_force(): string[] {
  const usual = usual_radii(live.flight?.blade ?? null, design.profile);
  const rows = (blade: Kept) => rows_in(part_of(blade.section, 'blade'), 'angles');
  const count = Math.max(usual.length, rows(assembly.a).length, rows(assembly.b).length);
  return Array.from({ length: count }, (_, index) => {
    const written = [assembly.a, assembly.b].map((blade) => rows(blade)[index]?.radius).find((radius) => !is_blank(radius));
    return written === undefined ? (usual[index] ?? '') : String(written);
  });
}

/** The propeller's own tables, and the instruments of the one before where it has none. */
export const propeller_table = (name: string): JobTable => part_of(part_of(assembly.propeller.section, 'propeller'), name);
export const instruments = (): JobTable => cleaned({ ...assembly.instruments, ...propeller_table('instruments') });

export type Asked = { question: BenchQuestion; places: Map<string, number[]> };

/** Null while neither blade has a reading. */
export function pair_question(): Asked | null {
  const radii = radii_in_force();
  const measured = both.filter(({ key }) => !is_blank(part_of(assembly[key].section, 'blade')));
  if (measured.length === 0) return null;
  const places = new Map<string, number[]>();
  const blades = both.map(({ key, id, place }) => {
    const made = blade_table(assembly[key].section, id, radii, `blades[${place}]`);
    for (const [list, rows] of made.places) places.set(list, rows);
    return made.table;
  });
  return { question: { units: design.profile, instruments: instruments(), blades, pair: cleaned(propeller_table('pair')) }, places };
}

/** What is wanting before two blades can be laid side by side, in words. */
export function wanting(): string[] {
  return both.flatMap(({ key, id }) => {
    const blade = assembly[key];
    const angles = rows_in(part_of(blade.section, 'blade'), 'angles').filter((row) => !is_blank(row.angle)).length;
    const list: string[] = [];
    if (!blade.text('blade.length')) list.push(`the length of ${id}`);
    if (!blade.text('blade.mass')) list.push(`the mass of ${id}`);
    if (angles < 2) list.push(angles === 0 ? `angles of ${id} at two radii` : `one more angle of ${id}`);
    return list;
  });
}

/** "the mass of B, the length of B and one more angle of B" */
export function listed(words: readonly string[]): string {
  if (words.length < 2) return words[0] ?? '';
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

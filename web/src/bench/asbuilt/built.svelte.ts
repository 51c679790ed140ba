// Both blades in hand as the as-built file tells them: what the Blades page keeps, and what only this page asks.
import type { BladeFigures } from '../../api/bench';
import type { PairQuestion } from '../../api/flex';
import type { DesignDocument, JobTable, JobValue, Problem } from '../../api/types';
import { assembly } from '../kit/assembly.svelte';
import { is_blank } from '../kit/blank';
import type { Kept } from '../kit/kept.svelte';
import { cleaned, part_of, rows_in } from '../kit/question';
import { both, radii_in_force } from '../blades/pair.svelte';

/** Members of a blade that stand with its readings on the Blades page. */
export const shared_members = ['length', 'mass', 'centre_of_mass'] as const;
/** Members that are asked here alone. */
export const own_members = ['camber', 'flapwise_stiffness', 'chordwise_stiffness', 'torsion_stiffness', 'spar_turn'] as const;
/** A stiffness told as EI of the bare spar goes by another name than one told as a share of the design's. */
const spar_member: { readonly [member: string]: string } = { flapwise_stiffness: 'spar_flapwise', chordwise_stiffness: 'spar_chordwise' };
const told_as_EI = (value: JobValue): boolean => typeof value === 'string' && /[\d.\s]N/.test(value);
/** Tests of the finished blade, in place of a share. */
export const test_members = { twist_test: ['mass', 'arm', 'radius', 'angle'], bend_test: ['mass', 'radius', 'deflection'] } as const;
export type BladeTest = keyof typeof test_members;
export const doubt_members = ['angle', 'length', 'mass', 'camber', 'stiffness', 'spar_turn'] as const;

export const own_path = (member: string): string => `blade.as_built.${member}`;
export const doubt_path = (member: string): string => `propeller.as_built_doubts.${member}`;

/** Which rows of the angles were sent, so that a problem finds its field: by blade, places from 1. */
export type SentRows = readonly [readonly number[], readonly number[]];

/** Mean camber by the templates on the Blades page, of the chord; null where none was laid over. */
export type ReadCamber = readonly [number | null, number | null];
export const camber_text = (share: number): string => `${(share * 100).toFixed(1)} %`;

export function mean_camber(figures: BladeFigures | null | undefined): number | null {
  const read = figures?.camber ?? [];
  return read.length === 0 ? null : read.reduce((sum, row) => sum + row.camber, 0) / read.length;
}

/** What the propeller's record knows of a blade by other readings: EI of its spar as mounted, its twist test. */
export type FromBench = { flapwise_stiffness?: string; chordwise_stiffness?: string; twist_test?: JobTable };

export function from_bench(propeller: JobTable, key: 'a' | 'b'): FromBench {
  const spars = part_of(propeller, 'spars');
  const found: FromBench = {};
  const flapwise = part_of(spars, 'flapwise')[key], chordwise = part_of(spars, 'chordwise')[key];
  if (typeof flapwise === 'string') found.flapwise_stiffness = flapwise;
  if (typeof chordwise === 'string') found.chordwise_stiffness = chordwise;
  const test = part_of(part_of(propeller, 'twist'), key);
  const last = rows_in(test, 'readings').filter((row) => !is_blank(row.mass) && !is_blank(row.angle)).at(-1);
  if (last && !is_blank(test.length) && !is_blank(test.arm)) found.twist_test = { mass: last.mass!, arm: test.arm!, length: test.length!, angle: last.angle! };
  return found;
}

/** Whether something else of this blade already tells the stiffness. */
function told_here(own: JobTable, member: string, test: BladeTest | null): boolean {
  return !is_blank(own[member]) || (test !== null && !is_blank(part_of(own, test)));
}

function add_from_bench(table: JobTable, own: JobTable, bench: FromBench): void {
  if (bench.flapwise_stiffness && !told_here(own, 'flapwise_stiffness', 'bend_test')) table.spar_flapwise = bench.flapwise_stiffness;
  if (bench.chordwise_stiffness && !told_here(own, 'chordwise_stiffness', null)) table.spar_chordwise = bench.chordwise_stiffness;
  if (bench.twist_test && !told_here(own, 'torsion_stiffness', 'twist_test')) table.twist_test = bench.twist_test;
}

export function built_blade(section: JobTable, id: string, radii: readonly string[], camber: number | null, bench: FromBench = {}): { table: JobTable; rows: number[] } {
  const read = part_of(section, 'blade');
  const own = part_of(read, 'as_built');
  const table: JobTable = { id };
  for (const member of shared_members) if (!is_blank(read[member])) table[member] = read[member]!;
  for (const member of own_members) {
    const value = own[member];
    if (value === undefined || is_blank(value)) continue;
    table[told_as_EI(value) ? (spar_member[member] ?? member) : member] = value;
  }
  for (const test of Object.keys(test_members)) {
    const readings = part_of(own, test);
    if (!is_blank(readings)) table[test] = cleaned(readings);
  }
  add_from_bench(table, own, bench);
  if (table.camber === undefined && camber !== null) table.camber = camber_text(camber);
  const angles = rows_in(read, 'angles');
  const rows = angles.flatMap((row, index) => (is_blank(row.angle) ? [] : [index + 1]));
  if (rows.length > 0) {
    table.angle = rows.map((place) => {
      const row = angles[place - 1]!;
      return { radius: is_blank(row.radius) ? (radii[place - 1] ?? '') : row.radius!, angle: row.angle! };
    }) as JobValue;
  }
  return { table, rows };
}

/** Null while nothing of either blade was measured. */
export function built_question(document: DesignDocument, camber: ReadCamber): { question: PairQuestion; rows: SentRows } | null {
  const radii = radii_in_force();
  const propeller = { ...part_of(assembly.propeller.section, 'propeller') };
  // A design without a spar has nothing to compare it with.
  if (is_blank(part_of(part_of(document.job, 'propeller'), 'spar').length)) delete propeller.spars;
  const [a, b] = both.map(({ key, id }, index) => built_blade(assembly[key].section, id, radii, camber[index] ?? null, from_bench(propeller, key))) as [ReturnType<typeof built_blade>, ReturnType<typeof built_blade>];
  const measured = [a, b].some(({ table }) => Object.keys(table).length > 1);
  if (!measured) return null;
  const as_built: JobTable = { blade: [a.table, b.table] as JobValue };
  const doubts: JobTable = {};
  for (const member of doubt_members) {
    const value = assembly.propeller.get(doubt_path(member));
    if (value !== undefined && !is_blank(value)) doubts[member] = value;
  }
  if (Object.keys(doubts).length > 0) as_built.doubts = doubts;
  return { question: { ...document, as_built }, rows: [a.rows, b.rows] };
}

/** "blade[1].angle[2].radius" of the rows sent is the field "blade[1].angle[3].radius" of the page. */
export function on_page(problems: readonly Problem[], rows: SentRows): Problem[] {
  return problems.map((told) => {
    const spar = Object.entries(spar_member).find(([, name]) => told.field.endsWith(`].${name}`));
    const problem = spar ? { ...told, field: told.field.replace(spar[1], spar[0]) } : told;
    const match = /^blade\[([12])\]\.angle\[(\d+)\](.*)$/.exec(problem.field);
    const place = match ? rows[Number(match[1]) - 1]?.[Number(match[2]) - 1] : undefined;
    return match && place !== undefined ? { ...problem, field: `blade[${match[1]}].angle[${place}]${match[3]}` } : problem;
  });
}

/** A reading belongs to its radius, which is kept with it. */
export function set_angle(blade: Kept, index: number, text: string, radii: readonly string[]): void {
  for (let before = 0; before < index; ++before) {
    const path = `blade.angles[${before + 1}]`;
    if (blade.get(path) === undefined) blade.set(path, { radius: radii[before] ?? '' });
  }
  blade.set(`blade.angles[${index + 1}]`, { ...(text === '' ? {} : { angle: text }), radius: radii[index] ?? '' });
}

// A batch as its record holds it, made into the tables of a question; what a test still lacks, in words.
import type { LoggedMotor, RubberBatch } from '../../api/rubber';
import type { JobTable, JobValue, Problem } from '../../api/types';
import { is_blank } from '../../bench/kit/blank';
import { cleaned, part_of, rows_in } from '../../bench/kit/question';
import type { Content } from '../../bench/kit/records';
import { counted_motors, logged_wind } from './logged';
import { csv_of, rows_of_csv, type Column } from './rows';

const asked_of_test = ['name', 'section', 'width', 'thickness', 'strands', 'length', 'mass', 'temperature', 'breaking_turns'];
const asked_of_wind = ['turns', 'section', 'width', 'thickness', 'strands', 'length', 'broke', 'motor'];
export const sizes = ['section', 'width', 'thickness', 'strands'];
const fewest_rows = 4;

export const only = (table: JobTable, names: readonly string[]): JobTable => Object.fromEntries(Object.entries(table).filter(([name]) => names.includes(name)));

/** Its tests; of a batch kept with a job, the one test that stands there. */
export function tests_of({ section, curve_csv }: Content): JobTable[] {
  const tests = rows_in(part_of(section, 'batch'), 'tests');
  if (section.batch !== undefined || !curve_csv) return tests;
  const rubber = part_of(section, 'rubber');
  const rows = rows_of_csv(curve_csv);
  if (!rows) return [];
  const measures = Object.fromEntries(['section', 'length', 'mass', 'temperature'].flatMap((name) => (is_blank(rubber[`test_${name}`]) ? [] : [[name, rubber[`test_${name}`]!]])));
  return [{ name: 'motor 1', ...measures, unit: 'mN·m', rows: rows as JobValue, csv: curve_csv }];
}

export const is_left_out = (test: JobTable): boolean => test.left_out === true;

/** What of a test must still be entered before it counts. */
export function wanting(test: JobTable): string[] {
  const lacks: string[] = [];
  if (is_blank(test.section) && is_blank(test.width)) lacks.push('the strip width');
  if (is_blank(test.length)) lacks.push('the loop length');
  if (is_blank(test.mass)) lacks.push('the mass');
  const rows = csv_of(test).places.length;
  if (rows < fewest_rows) lacks.push(rows === 0 ? 'rows of turns and torque' : `${fewest_rows - rows} more ${fewest_rows - rows === 1 ? 'row' : 'rows'}`);
  return lacks;
}

export const test_question = (test: JobTable): JobTable => ({ ...cleaned(only(test, asked_of_test)), csv: csv_of(test).csv });

/** The tests that are complete, and their places from 1; null where there is none. */
export function batch_question(content: Content): { table: JobTable; places: number[] } | null {
  const tests = tests_of(content);
  const places = tests.flatMap((test, at) => (is_left_out(test) || wanting(test).length > 0 ? [] : [at + 1]));
  return places.length === 0 ? null : { table: { name: content.name, tests: places.map((place) => test_question(tests[place - 1]!)) as JobValue }, places };
}

/** `places`: of each wind sent, its row from 1; those of the log, `logged`, come last and have rows that no table shows. */
export type WindsQuestion = { rows: JobTable[]; places: number[]; logged: LoggedMotor[] };

/** Winds that broke or held, and those of the log; each with its own size, or that of the motor they were entered for. */
export function winds_question(breaking: JobTable, sized: boolean, log: readonly LoggedMotor[] = []): WindsQuestion {
  const own = only(breaking, [...sizes, 'length']);
  const winds = rows_in(breaking, 'winds');
  const places = winds.flatMap((wind, at) => (is_blank(wind.turns) ? [] : [at + 1]));
  const rows = places.map((place) => {
    const { broke, ...wind } = only(winds[place - 1]!, asked_of_wind);
    const cut = sized && is_blank(wind.width) && is_blank(wind.section) ? only(own, sizes) : {};
    const length = sized && is_blank(wind.length) ? only(own, ['length']) : {};
    return { ...cleaned({ ...cut, ...length, ...wind }), ...(broke === false ? { broke: false } : {}) };
  });
  const logged = counted_motors(breaking, log);
  return { rows: [...rows, ...logged.map(logged_wind)], places: [...places, ...logged.map((_, at) => winds.length + 2 + at)], logged };
}

/** Whether the motor to be wound is known. */
export const has_size = (table: JobTable): boolean => !(is_blank(table.section) && is_blank(table.width)) && !is_blank(table.length);

export function breaking_question(breaking: JobTable, log: readonly LoggedMotor[] = []): { table: JobTable } & Omit<WindsQuestion, 'rows'> | null {
  if (!has_size(breaking)) return null;
  const { rows, ...of } = winds_question(breaking, false, log);
  return { table: { ...cleaned(only(breaking, ['risk', 'length', 'turns_constant', ...sizes])), winds: rows as JobValue }, ...of };
}

/** The table of the rubber as a job takes it, with the mean of the batch as its one test. */
export function rubber_of(section: JobTable, name: string, { as_test }: RubberBatch): JobTable {
  const rubber: JobTable = { ...part_of(section, 'rubber'), name: name.slice(0, 120), test_file: `${name.replace(/[^\p{L}\p{N} ,._-]/gu, '-').slice(0, 80)}.csv` };
  for (const measure of ['section', 'length', 'mass', 'temperature'] as const) rubber[`test_${measure}`] = as_test[measure];
  return { ...section, rubber };
}

const csv_columns: Record<string, Column> = { turns: 'turns', torque_winding_Nm: 'winding', torque_unwinding_Nm: 'unwinding' };

/** Problems of the rows of a test, by row and column of the grid; -1 where the program names no row. */
export function row_problems(test: JobTable, file: string, problems: readonly Problem[]): { row: number; column: Column | null; problem: Problem }[] {
  const { places } = csv_of(test);
  return problems.filter((problem) => problem.file === file).map((problem) => ({
    problem,
    row: problem.line === null ? -1 : (places[problem.line - 2] ?? -1),
    column: csv_columns[problem.field] ?? null,
  }));
}

// The grid of a bench test: turns and torques as typed, in the unit or on the private scale they were read on, and the
// CSV in N m that is made of them. Conversion of units only.
import type { JobTable } from '../../api/types';
import { rows_in } from '../../bench/kit/question';
import { read_table } from '../csv';
import { read, scale_of, torque_units, type TorqueUnit } from '../units';

export const columns = ['turns', 'winding', 'unwinding'] as const;
export type Column = (typeof columns)[number];
export type Row = Partial<Record<Column, string>>;

/** Whole counts: a comma parts thousands. */
export const counted = { unit: 'turns', factor: 1, offset: 0, digits: 0, step: 1 };

export const rows_of = (test: JobTable): Row[] => rows_in(test, 'rows') as Row[];
export const is_empty = (row: Row): boolean => columns.every((column) => (row[column] ?? '').trim() === '');

/** "mN·m", or what a step of the meter's scale is called. */
export const unit_of = (test: JobTable): string => (typeof test.meter_torque_Nm === 'number' ? String(test.meter_unit ?? 'division') : torque_unit_of(test));

export function torque_unit_of(test: JobTable): TorqueUnit {
  return torque_units.find((unit) => unit === test.unit) ?? 'mN·m';
}

/** N m, or turns. Null: nothing there; undefined: no number. */
export function value_of(test: JobTable, column: Column, text: string): number | null | undefined {
  if (column === 'turns') return read(text, counted);
  const { meter_torque_Nm: per, meter_zero: zero } = test;
  if (typeof per !== 'number') return read(text, scale_of('torque', 'metric', torque_unit_of(test)));
  const reading = read(text, counted);
  return typeof reading === 'number' ? Number(((reading - (typeof zero === 'number' ? zero : 0)) * per).toPrecision(10)) : reading;
}

/** Past this reading the meter's line is only drawn on: as kept with the test, else by the weights that its record has now. */
export function greatest_of(test: JobTable, meter: JobTable | undefined): number | null {
  if (typeof test.meter_torque_Nm !== 'number') return null;
  if (typeof test.meter_greatest === 'number') return test.meter_greatest;
  const hung = rows_in(meter ?? {}, 'weights').map(({ reading }) => read(String(reading ?? ''), counted)).filter((reading): reading is number => typeof reading === 'number');
  return hung.length > 0 ? Math.max(...hung) : null;
}

/** Rows, from 0, in which a torque was read past the heaviest weight hung; half a step is rounding. */
export function rows_beyond(test: JobTable, greatest: number | null): number[] {
  if (greatest === null) return [];
  const past = (text: string | undefined) => { const reading = read(text ?? '', counted); return typeof reading === 'number' && reading > greatest + 0.5; };
  return rows_of(test).flatMap((row, at) => (past(row.winding) || past(row.unwinding) ? [at] : []));
}

export type TestCsv = {
  csv: string;
  /** Of each row sent, its place in the grid, from 0. */
  places: number[];
  /** Cells that hold no number. */
  unread: { row: number; column: Column }[];
  /** Rows in which a cell is empty: left out until it is filled. */
  partial: number[];
};

/** The rows as the program reads a test. */
export function csv_of(test: JobTable): TestCsv {
  const made: TestCsv = { csv: 'turns,torque_winding_Nm,torque_unwinding_Nm\n', places: [], unread: [], partial: [] };
  rows_of(test).forEach((row, at) => {
    if (is_empty(row)) return;
    const values = columns.map((column) => value_of(test, column, row[column] ?? ''));
    values.forEach((value, index) => value === undefined && made.unread.push({ row: at, column: columns[index]! }));
    if (values.includes(null)) made.partial.push(at);
    else if (!values.includes(undefined)) {
      made.csv += `${values.join(',')}\n`;
      made.places.push(at);
    }
  });
  return made;
}

/** Rows of a CSV in N m, as a file of the command line or a job has it; null where it is none. */
export function rows_of_csv(csv: string): Row[] | null {
  const table = read_table(csv);
  const at = ['turns', 'torque_winding_Nm', 'torque_unwinding_Nm'].map((name) => table?.head.indexOf(name) ?? -1);
  if (!table || at.includes(-1)) return null;
  const shown = (cell: string | undefined, factor: number) => (cell === undefined || !Number.isFinite(Number(cell)) ? (cell ?? '') : String(Number((Number(cell) * factor).toPrecision(10))));
  return table.rows.map(({ cells }) => ({ turns: shown(cells[at[0]!], 1), winding: shown(cells[at[1]!], 1000), unwinding: shown(cells[at[2]!], 1000) }));
}

const number = /^[-+\u2212]?(\d+[.,]?\d*|[.,]\d+)$/;

/** Cells of a spreadsheet as they lie in the clipboard; lines of words, as headings are, are passed over and counted. */
export function pasted(text: string): { cells: string[][]; passed_over: number } {
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== '');
  const tabbed = lines.some((line) => line.includes('\t')), semicolon = lines.some((line) => line.includes(';'));
  const part = tabbed ? '\t' : semicolon ? ';' : /,\s*\S+\s*,|,\s/.test(lines[0] ?? '') || /^\D*[,]\D/.test(lines[0] ?? '') || lines.every((line) => line.split(',').length === 3) ? ',' : /\s+/;
  const all = lines.map((line) => (tabbed || semicolon ? line : line.trim()).split(part).map((cell) => cell.trim()));
  const cells = all.filter((row) => row.some((cell) => number.test(cell)) && row.every((cell) => cell === '' || number.test(cell)));
  return { cells, passed_over: all.length - cells.length };
}

/** The grid with these cells laid in from one cell on. */
export function laid_in(rows: readonly Row[], row: number, column: Column, cells: readonly string[][]): Row[] {
  const next = [...rows];
  const first = columns.indexOf(column);
  cells.forEach((line, down) => {
    const filled: Row = { ...next[row + down] };
    line.forEach((cell, across) => {
      const name = columns[first + across];
      if (name) filled[name] = cell;
    });
    next[row + down] = filled;
  });
  return Array.from(next, (each) => each ?? {});
}

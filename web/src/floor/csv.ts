// Tables of flights as files: CSV of any spreadsheet in, the flight log file out.
import { columns, is_number_column, tidy, type LoggedFlight } from './flight';

export type Table = {
  head: string[];
  rows: { line: number; cells: string[] }[];
  /** Lines that hold remarks, from 1. */
  passed_over: number[];
};

/** Comma, semicolon or tab: what stands most often in the first line. */
function separator_of(line: string): string {
  const count = (mark: string) => line.split(mark).length - 1;
  return [',', ';', '\t'].reduce((best, mark) => (count(mark) > count(best) ? mark : best));
}

type Row = { line: number; cells: string[] };

/** Cells with quotes as RFC 4180 has them, and the line each row begins at. */
function rows_of(text: string, separator: string): Row[] {
  const rows: Row[] = [];
  let cells: string[] = [], cell = '', quoted = false, line = 1, began = 1;
  const end_row = () => {
    cells.push(cell.trim());
    if (cells.some((each) => each !== '')) rows.push({ line: began, cells });
    cells = [];
    cell = '';
  };
  for (let at = 0; at < text.length; ++at) {
    const mark = text[at]!;
    if (mark === '\n') ++line;
    if (quoted) {
      if (mark !== '"') cell += mark;
      else if (text[at + 1] === '"') { cell += '"'; ++at; }
      else quoted = false;
    } else if (mark === '"' && cell.trim() === '') { quoted = true; cell = ''; }
    else if (mark === separator) { cells.push(cell.trim()); cell = ''; }
    else if (mark === '\n') { end_row(); began = line; }
    else if (mark !== '\r') cell += mark;
  }
  end_row();
  return rows;
}

/** A heading may be "#" or "# No.", over the numbers of the flights; any other line above the headings that begins so is a remark. */
function heads_a_column(line: string, separator: string): boolean {
  const [first, ...more] = line.split(separator);
  return more.length > 0 && /^#\s*(no|nr|num|number)?\.?$/i.test(first!.trim().replace(/^"|"$/g, ''));
}

/**
 * Remarks are lines above the headings that begin with #, and below them those that have nothing but their first cell; in the
 * flight log file all that begin so. What stands in quotes is none. `passed_over`: the lines that were taken for remarks. Null: there is no table in it.
 */
export function read_table(text: string): Table | null {
  const lines = text.replace(/^\ufeff/, '').split('\n');
  const is_remark = (line: string) => line.startsWith('#') && !heads_a_column(line, separator_of(line));
  const begin = lines.findIndex((line) => line.trim() !== '' && !is_remark(line));
  if (begin < 0) return null;
  const passed_over = lines.slice(0, begin).flatMap((line, at) => (line.startsWith('#') ? [at + 1] : []));
  const [head, ...rows] = rows_of(lines.slice(begin).join('\n'), separator_of(lines[begin]!)).map((row) => ({ ...row, line: row.line + begin }));
  if (!head) return null;
  const ours = head.cells.every((title) => columns.some(({ name }) => name === title));
  const remarks = rows.filter(({ line, cells }) => lines[line - 1]!.startsWith('#') && (ours || (head.cells.length > 1 && cells.slice(1).every((cell) => cell === ''))));
  return { head: head.cells, rows: rows.filter((row) => !remarks.includes(row)), passed_over: [...passed_over, ...remarks.map(({ line }) => line)] };
}

function cell_text(value: unknown): string {
  const text = String(value ?? '').replace(/[\r\n]+/g, ' ');
  return /[",#]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** The flight log file: the columns that any flight fills. */
export function write_csv(flights: readonly LoggedFlight[]): string {
  const filled = columns.filter(({ name }) => name === 'propeller' || name === 'duration_s' || flights.some((flight) => flight[name] !== undefined));
  const lines = flights.map((flight) => filled.map(({ name }) => cell_text(flight[name])).join(','));
  return `${[filled.map(({ name }) => name).join(','), ...lines].join('\n')}\n`;
}

/** What the pages write as JSON, {"flights": [...]}, or a bare list. Null: it is neither. */
export function read_json(text: string): { flights: LoggedFlight[]; not_understood: string[] } | null {
  let parsed: unknown;
  try {
    parsed = JSON.parse(text);
  } catch {
    return null;
  }
  const list = Array.isArray(parsed) ? parsed : (parsed as { flights?: unknown } | null)?.flights;
  return Array.isArray(list) ? sound_flights(list) : null;
}

/** Out of anything: the entries that are flights, with those of their members that are columns. */
export function sound_flights(list: readonly unknown[]): { flights: LoggedFlight[]; not_understood: string[] } {
  const not_understood: string[] = [];
  const flights = list.flatMap((each: unknown, index) => {
    const found = each !== null && typeof each === 'object' ? ('flight' in each ? (each as { flight: unknown }).flight : each) : null;
    if (found === null || typeof found !== 'object') {
      not_understood.push(`entry ${index + 1}: this is no flight`);
      return [];
    }
    return [sound(found as Record<string, unknown>, `entry ${index + 1}`, not_understood)];
  });
  return { flights, not_understood };
}

/** The members that are columns, of the right kind. */
function sound(table: Record<string, unknown>, place: string, not_understood: string[]): LoggedFlight {
  const flight: Record<string, unknown> = {};
  for (const [name, value] of Object.entries(table)) {
    const known = columns.some((column) => column.name === name);
    if (known && typeof value === (is_number_column(name) ? 'number' : 'string')) flight[name] = value;
    else if (value !== null && value !== '') not_understood.push(`${place}, ${name}: ${JSON.stringify(value)}`.slice(0, 120));
  }
  return tidy(flight);
}

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

const own_names = new Set([...columns.map(({ name }) => name as string), 'turns_backed_off']);
const ours = (head: Row): boolean => head.cells.every((title) => own_names.has(title));

/**
 * Cells with quotes as RFC 4180 has them, and the line each row begins at: what stands in quotes keeps its line breaks and the
 * spaces at its ends. Below the headings of the flight log file a line that begins with # is a remark as a whole.
 */
function rows_of(text: string, separator: string): { rows: Row[]; remarks: number[] } {
  const rows: Row[] = [], remarks: number[] = [];
  let cells: string[] = [], cell = '', inside: string | null = null, quoted = false, line = 1, began = 1;
  const end_cell = () => {
    cells.push(inside === null ? cell.trim() : inside + cell.trimEnd());
    cell = '';
    inside = null;
  };
  const end_row = () => {
    end_cell();
    if (cells.some((each) => each.trim() !== '')) rows.push({ line: began, cells });
    cells = [];
  };
  for (let at = 0; at < text.length; ++at) {
    const begins = cells.length === 0 && cell.trim() === '' && inside === null && !quoted;
    if (begins && text[at] === '#' && rows.length > 0 && ours(rows[0]!)) {
      remarks.push(line);
      const end = text.indexOf('\n', at);
      if (end < 0) return { rows, remarks };
      at = end;
      cell = '';
      began = ++line;
      continue;
    }
    const mark = text[at]!;
    if (mark === '\n') ++line;
    if (quoted) {
      if (mark !== '"') inside += mark;
      else if (text[at + 1] === '"') { inside += '"'; ++at; }
      else quoted = false;
    } else if (mark === '"' && inside === null && cell.trim() === '') { quoted = true; inside = cell = ''; }
    else if (mark === separator) end_cell();
    else if (mark === '\n') { end_row(); began = line; }
    else if (mark !== '\r') cell += mark;
  }
  end_row();
  return { rows, remarks };
}

/** A heading may be "#" or "# No.", over the numbers of the flights; any other line above the headings that begins so is a remark. */
function heads_a_column(line: string, separator: string): boolean {
  const [first, ...more] = line.split(separator);
  return more.some((cell) => cell.trim() !== '') && /^#\s*(no|nr|num|number)?\.?$/i.test(first!.trim().replace(/^"|"$/g, ''));
}

/**
 * Remarks are lines above the headings that begin with #, and below them those that have nothing but their first cell; in the
 * flight log file all that begin so. What stands in quotes is none. `passed_over`: the lines that were taken for remarks. Null: there is no table in it.
 */
export function read_table(text: string): Table | null {
  const lines = text.replace(/^\ufeff/, '').split('\n');
  const is_remark = (line: string) => line.trimStart().startsWith('#') && !heads_a_column(line.trim(), separator_of(line));
  const begin = lines.findIndex((line) => line.trim() !== '' && !is_remark(line));
  if (begin < 0) return null;
  const above = lines.slice(0, begin).flatMap((line, at) => (line.trimStart().startsWith('#') ? [at + 1] : []));
  const { rows: found, remarks } = rows_of(lines.slice(begin).join('\n'), separator_of(lines[begin]!));
  const [head, ...rows] = found.map((row) => ({ ...row, line: row.line + begin }));
  if (!head) return null;
  const is_bare = ({ line, cells }: Row) => lines[line - 1]!.trimStart().startsWith('#') && head.cells.length > 1 && cells.slice(1).every((cell) => cell.trim() === '');
  const passed_over = [...above, ...remarks.map((line) => line + begin), ...rows.filter(is_bare).map(({ line }) => line)];
  return { head: head.cells.map((title) => title.trim()), rows: rows.filter((row) => !is_bare(row)), passed_over };
}

/** A cell as RFC 4180 has it: what would be cut, taken for a remark or lose its spaces is quoted. */
function cell_text(value: unknown): string {
  const text = String(value ?? '');
  return /[",;#\t\r\n]/.test(text) || text !== text.trim() ? `"${text.replaceAll('"', '""')}"` : text;
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

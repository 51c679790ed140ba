// What is asked in passing and belongs to no record, strip sizes or a reading to be told as torque: kept in this browser.
import type { JobTable, JobValue } from '../../api/types';
import { read, write } from '../../lib/jobpath';

export class Scratch {
  table = $state.raw<JobTable>({});
  readonly #key: string;

  constructor(name: string) {
    this.#key = `propwright-floor-${name}`;
    try {
      const kept = JSON.parse(localStorage.getItem(this.#key) ?? '{}') as unknown;
      if (kept !== null && typeof kept === 'object' && !Array.isArray(kept)) this.table = kept as JobTable;
    } catch {
      // Storage off, or not ours: it begins empty.
    }
  }

  text(path: string): string {
    const value = read(this.table, path);
    return value === undefined || typeof value === 'object' ? '' : String(value);
  }

  set(path: string, value: JobValue | undefined): void {
    this.table = write(this.table, path, value === '' ? undefined : value);
    try {
      localStorage.setItem(this.#key, JSON.stringify(this.table));
    } catch {
      // As above: it lasts as long as the page.
    }
  }
}

// A long list read in pieces: only the rows near what is seen are asked for.

export type Page<Row> = { total: number; items: Row[] };

const piece = 100;

export class Pages<Row> {
  total = $state(0);
  /** First answer of this question is there. */
  ready = $state(false);
  failed = $state.raw<unknown>(null);
  #rows = $state.raw(new Map<number, Row>());
  #asked = new Set<number>();
  #generation = 0;

  constructor(private read: (offset: number, limit: number) => Promise<Page<Row>>) {}

  /** A new question: other words, another order. What is shown stays until the answer comes. */
  async restart(read: (offset: number, limit: number) => Promise<Page<Row>>): Promise<void> {
    this.read = read;
    this.#asked = new Set();
    const generation = ++this.#generation;
    await this.#fetch(0, generation, true);
  }

  row(index: number): Row | undefined {
    return this.#rows.get(index);
  }

  /** Makes sure that the rows from `first` to `last` are there or on their way. */
  want(first: number, last: number): void {
    for (let at = Math.floor(first / piece) * piece; at <= last; at += piece) {
      if (at < this.total && !this.#asked.has(at)) void this.#fetch(at, this.#generation, false);
    }
  }

  async #fetch(at: number, generation: number, fresh: boolean): Promise<void> {
    this.#asked.add(at);
    try {
      const page = await this.read(at, piece);
      if (generation !== this.#generation) return;
      const rows = fresh ? new Map<number, Row>() : new Map(this.#rows);
      page.items.forEach((row, index) => rows.set(at + index, row));
      this.#rows = rows;
      this.total = page.total;
      this.ready = true;
      this.failed = null;
    } catch (error) {
      if (generation !== this.#generation) return;
      this.#asked.delete(at);
      this.failed = error;
    }
  }
}

/** Which rows of fixed height a window shows, with some to spare on both sides. */
export function visible_rows(scroll_top: number, window_height: number, row_height: number, total: number, spare = 8): { first: number; last: number } {
  const first = Math.max(0, Math.floor(scroll_top / row_height) - spare);
  const last = Math.min(total - 1, Math.ceil((scroll_top + window_height) / row_height) + spare);
  return { first, last };
}

// Batches of rubber, motors, torque meters and visits: each kind a shelf of records, one of them under the hand.
import type { KeptKind, Problem } from '../../api/types';
import { is_blank } from '../../bench/kit/blank';
import { Kept } from '../../bench/kit/kept.svelte';
import { bench_records, type BenchRecord } from '../../bench/kit/records';
import { words_of } from '../../store/saving.svelte';
import { setup } from '../setup.svelte';

const retry_ms = 1500;

export class Shelf {
  state = $state<'loading' | 'ready' | 'gone'>('loading');
  list = $state.raw<BenchRecord[]>([]);
  away = $state.raw<BenchRecord[]>([]);
  problems = $state.raw<Problem[]>([]);
  hand: Kept;
  #reading: Promise<BenchRecord[]> | null = null;

  /** `title`: of a new one, "Motor" for "Motor 3". */
  constructor(readonly kind: KeptKind, readonly title: string) {
    this.hand = new Kept({ kind, slot: `floor-${kind}`, created: (id) => void this.#made(id) });
  }

  get #key(): string {
    return `propwright-floor-${this.kind}-open`;
  }

  /** What was in hand last comes back, with what was not written yet. */
  async start(): Promise<void> {
    try {
      await this.read();
      // Only once: afterwards an empty hand is a new one, which the builder asked for.
      if (this.state !== 'ready' && this.hand.ref === null && this.hand.blank && !this.hand.resume_unwritten()) await this.#begin();
      this.state = 'ready';
    } catch (error) {
      this.state = 'gone';
      this.problems = words_of(error);
      setTimeout(() => void this.start(), retry_ms);
    }
  }

  async #begin(): Promise<void> {
    const last = kept_id(this.#key);
    const record = this.list.find(({ id }) => id === last) ?? this.list[0];
    if (record) await this.hand.open(record.id);
    else this.fresh();
  }

  /** The list asked for last counts, and whoever asked for an earlier one waits for it too. */
  async read(): Promise<void> {
    let asked = (this.#reading = bench_records.list(this.kind, { archived: 'all' }));
    let all = await asked;
    while (asked !== this.#reading) {
      asked = this.#reading;
      all = await asked;
    }
    const by_name = all.sort((a, b) => a.name.localeCompare(b.name, 'en', { numeric: true }));
    this.list = by_name.filter(({ archived }) => !archived);
    this.away = by_name.filter(({ archived }) => archived);
  }

  /** The records as they stand, the one in hand with what was typed last. */
  now = $derived.by(() => this.list.map((record) => (record.id === this.hand.id ? { ...record, ...this.hand.content } : record)));

  fresh(): void {
    this.hand.fresh(this.free_name());
  }

  free_name = (): string => {
    const taken = new Set([...this.list, ...this.away, this.hand].map(({ name }) => name.toLowerCase()));
    for (let number = 1; ; ++number) {
      const name = `${this.title} ${number}`;
      if (!taken.has(name.toLowerCase())) return name;
    }
  };

  /** True where the hand may go on to another one. */
  async #let_go(): Promise<boolean> {
    await this.hand.flush();
    return !this.hand.theirs && (!this.hand.dirty || is_blank(this.hand.section));
  }

  create = async (): Promise<void> => {
    if (await this.#let_go()) this.fresh();
  };

  open = async (record: BenchRecord): Promise<void> => {
    if (!(await this.#let_go())) return;
    await this.hand.open(record.id);
    keep_id(this.#key, record.id);
  };

  /** Off the shelf, or back on it. */
  put_away = async (record: BenchRecord): Promise<void> => {
    const own = record.id === this.hand.id && !record.archived;
    if (own) await this.hand.flush();
    await bench_records.put_away(this.kind, own && this.hand.ref ? { ...record, etag: this.hand.ref.etag } : record);
    await this.read();
    if (own) this.fresh();
    this.told();
  };

  /** The rest of the floor offers the names and the meters of the workshop. */
  told(): void {
    setup.read_names();
  }

  async #made(id: string): Promise<void> {
    keep_id(this.#key, id);
    await this.read().catch(() => undefined);
    this.told();
  }

  async leave(): Promise<void> {
    await this.hand.flush();
    this.told();
  }
}

function kept_id(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

function keep_id(key: string, id: string): void {
  try {
    localStorage.setItem(key, id);
  } catch {
    // Storage off: the first of the list is opened next time.
  }
}

export const rubbers = new Shelf('rubbers', 'Box');
export const motors = new Shelf('motors', 'Motor');
export const meters = new Shelf('meters', 'Meter');
export const visits = new Shelf('sessions', 'Visit');

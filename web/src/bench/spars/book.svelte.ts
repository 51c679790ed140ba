// The batches, rigs and spars of the workshop as this page has them. An entry is kept in this browser
// first and then in the workshop, so that nothing is lost when the program or the network is away.
import { Gone } from '../../api/client';
import type { Problem, SparRig, SparText } from '../../api/types';
import { words_of } from '../../store/saving.svelte';
import { Overtaken } from '../kit/records';
import { keep_local, keep_opened, local_batch, opened_last, type Row, type Undo } from './local';
import { merged } from './merge';
import { add_bench, change_bench, list_bench, put_away, theirs_of, type Kept } from './tables';

/** What a batch says of all its spars; quantities are text with their unit. */
export type BatchText = {
  shape?: SparText['shape'];
  length?: string;
  corner_radius?: string;
  tolerance?: string;
  minimum_size?: string;
  step?: string;
  size_sigma?: string;
  mass_sigma?: string;
  keep_pairs?: [string, string][];
  notes?: string;
};
export type KeptBatch = Kept<BatchText>;
export type KeptRig = Kept<SparRig>;

const retry_ms = 2000;
const most_undo = 30;
const by_name = new Intl.Collator('en', { numeric: true });

/** The same spar was changed in two ways on two devices. */
export type Conflict = { key: string; mine: SparText; theirs: Kept<SparText> };

/** Pages from another device are no secure context: the browser's own maker of ids is not there. */
const new_key = (): string => `${Date.now().toString(36)}-${Math.random().toString(36).slice(2)}`;

class Book {
  state = $state<'loading' | 'ready' | 'gone'>('loading');
  batches = $state.raw<KeptBatch[]>([]);
  rigs = $state.raw<KeptRig[]>([]);
  open = $state.raw<KeptBatch | null>(null);
  rows = $state.raw<Row[]>([]);
  undo = $state.raw<Undo[]>([]);
  conflict = $state.raw<Conflict | null>(null);
  problems = $state.raw<Problem[]>([]);
  /** The workshop does not take entries now; they wait in this browser. */
  waiting = $state(false);
  /** Said once, politely. */
  told = $state('');

  rig = $derived(this.rigs.find(({ id }) => id === this.open?.links.rig_id) ?? null);
  #flushing = false;
  #retry: ReturnType<typeof setTimeout> | undefined;
  #listeners = new Set<() => void>();

  /** Called at once after every change of what is asked about. */
  on_change(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  async load(): Promise<void> {
    try {
      [this.batches, this.rigs] = await Promise.all([list_bench<BatchText>('batches'), list_bench<SparRig>('rigs')]);
      const wanted = this.open?.id ?? opened_last();
      const newest = [...this.batches].sort((a, b) => b.updated_at.localeCompare(a.updated_at))[0];
      const batch = this.batches.find(({ id }) => id === wanted) ?? newest ?? null;
      if (batch) await this.#read(batch);
      else {
        this.open = null;
        this.#show([]);
      }
      this.state = 'ready';
    } catch (error) {
      if (!(error instanceof Gone)) this.problems = words_of(error);
      this.state = this.state === 'loading' ? 'gone' : this.state;
      clearTimeout(this.#retry);
      if (error instanceof Gone) this.#retry = setTimeout(() => void this.load(), retry_ms);
    }
  }

  async open_batch(batch: KeptBatch): Promise<void> {
    await this.#guarded(() => this.#read(batch));
  }

  async #read(batch: KeptBatch): Promise<void> {
    const records = await list_bench<SparText>('spars', { batch_id: batch.id });
    const local = local_batch(batch.id);
    const rows: Row[] = records.map((record) => ({ key: record.id, record, spar: record.table, unsaved: false }));
    for (const waiting of local.unsaved ?? []) {
      const at = rows.findIndex(({ key, record }) => key === waiting.key || (record && record.id === waiting.record?.id));
      if (at < 0) rows.push(waiting);
      else rows[at] = waiting;
    }
    this.open = batch;
    this.undo = local.undo ?? [];
    keep_opened(batch.id);
    this.#show(rows);
    void this.#flush();
  }

  /** What other devices entered since, unless entries of this one still wait. */
  async refresh(): Promise<void> {
    if (this.state !== 'ready' || this.#flushing || this.rows.some(({ unsaved }) => unsaved)) return;
    await this.load();
  }

  find(id: string): Row | null {
    return this.rows.find(({ spar }) => spar.id === id.trim()) ?? null;
  }

  /** Takes an entry; it can be taken back by `take_back`. */
  put(row: Row | null, spar: SparText): void {
    const key = row?.key ?? new_key();
    const next: Row = { key, record: row?.record ?? null, spar, unsaved: true };
    this.undo = [...this.undo.slice(-most_undo + 1), { key, id: spar.id, before: row?.spar ?? null }];
    this.#show(row ? this.rows.map((each) => (each.key === key ? next : each)) : [...this.rows, next]);
    this.#keep_local();
    void this.#flush();
  }

  /** A table read in at once: one step to take back each. */
  put_all(spars: SparText[]): void {
    const fresh = spars.filter(({ id }) => !this.find(id)).map((spar): Row => ({ key: new_key(), record: null, spar, unsaved: true }));
    this.#show([...this.rows, ...fresh]);
    this.#keep_local();
    void this.#flush();
  }

  async take_back(): Promise<void> {
    const last = this.undo.at(-1);
    // After the page was loaded again a spar goes by the key of its record.
    const row = last && (this.rows.find(({ key }) => key === last.key) ?? this.find(last.id));
    this.undo = this.undo.slice(0, -1);
    if (!last || !row) return this.#keep_local();
    if (last.before) {
      const spar = last.before;
      this.#show(this.rows.map((each) => (each.key === row.key ? { ...row, spar, unsaved: true } : each)));
      this.told = `The last entry of spar ${last.id} is taken back.`;
    } else {
      await this.remove(row);
    }
    this.#keep_local();
    void this.#flush();
  }

  /** Out of the batch; its record stays in the workshop, archived. */
  async remove(row: Row): Promise<void> {
    await this.#guarded(async () => {
      if (row.record) await put_away('spars', row.record);
      this.#show(this.rows.filter(({ key }) => key !== row.key));
      this.#keep_local();
      this.told = `Spar ${row.spar.id} is taken out of the batch.`;
    });
  }

  async begin_batch(name: string, table: BatchText, rig_id: string | null): Promise<boolean> {
    return this.#guarded(async () => {
      const batch = await add_bench<BatchText>('batches', name, table, rig_id ? { rig_id } : {});
      this.batches = [...this.batches, batch];
      await this.#read(batch);
    });
  }

  async change_batch(name: string, table: BatchText, rig_id: string | null = this.open?.links.rig_id ?? null): Promise<boolean> {
    return this.#guarded(async () => {
      if (!this.open) return;
      const kept = await change_bench('batches', this.open, name, table, rig_id ? { rig_id } : {});
      this.batches = this.batches.map((each) => (each.id === kept.id ? kept : each));
      this.open = kept;
      this.#changed();
    });
  }

  async put_away_batch(batch: KeptBatch): Promise<boolean> {
    return this.#guarded(async () => {
      await put_away('batches', batch);
      if (this.open?.id === batch.id) this.open = null;
      await this.load();
    });
  }

  /** Adds a rig or changes one; the batch under the hand then uses it. */
  async keep_rig(rig: KeptRig | null, table: SparRig): Promise<KeptRig | null> {
    let kept: KeptRig | null = null;
    const done = await this.#guarded(async () => {
      const name = table.name?.trim() || 'Rig';
      const written = rig ? await change_bench('rigs', rig, name, table) : await add_bench('rigs', name, table);
      this.rigs = rig ? this.rigs.map((each) => (each.id === rig.id ? written : each)) : [...this.rigs, written];
      kept = written;
    });
    return done ? kept : null;
  }

  async put_away_rig(rig: KeptRig): Promise<boolean> {
    return this.#guarded(async () => {
      await put_away('rigs', rig);
      this.rigs = this.rigs.filter(({ id }) => id !== rig.id);
      this.#changed();
    });
  }

  /** The builder chose between two states of one spar. */
  settle_conflict(mine: boolean): void {
    const found = this.conflict;
    if (!found) return;
    this.conflict = null;
    const spar = mine ? found.mine : found.theirs.table;
    this.#show(this.rows.map((each) => (each.key === found.key ? { ...each, record: found.theirs, spar, unsaved: mine } : each)));
    this.#keep_local();
    void this.#flush();
  }

  /** Sends what waits, oldest first; goes on by itself when the program answers again. */
  async #flush(): Promise<void> {
    if (this.#flushing || this.conflict) return;
    this.#flushing = true;
    clearTimeout(this.#retry);
    try {
      for (let row = this.#waiting_row(); row; row = this.#waiting_row()) await this.#send(row);
      this.waiting = false;
      this.problems = [];
    } catch (error) {
      this.waiting = true;
      if (error instanceof Gone) this.#retry = setTimeout(() => void this.#flush(), retry_ms);
      else this.problems = words_of(error);
    } finally {
      this.#flushing = false;
    }
  }

  #waiting_row(): Row | undefined {
    return this.conflict ? undefined : this.rows.find(({ unsaved }) => unsaved);
  }

  async #send(row: Row): Promise<void> {
    const { spar, key } = row;
    const batch_id = this.open?.id ?? '';
    const record = row.record ?? (this.waiting ? await this.#arrived_before(batch_id, spar) : null);
    try {
      const kept = record ? await change_bench('spars', record, spar.id, spar) : await add_bench('spars', spar.id, spar, { batch_id });
      this.#saved(key, kept, spar);
    } catch (error) {
      if (!(error instanceof Overtaken)) throw error;
      const theirs = theirs_of<SparText>('spars', error);
      const both = merged(record?.table ?? null, spar, theirs.table);
      if (!both) {
        this.conflict = { key, mine: spar, theirs };
        return;
      }
      this.#show(this.rows.map((each) => (each.key === key ? { ...each, record: theirs, spar: both } : each)));
      this.told = `Spar ${spar.id} was also entered elsewhere: both entries are kept.`;
    }
  }

  /** The answer of the program was lost, the entry perhaps not. */
  async #arrived_before(batch_id: string, spar: SparText): Promise<Kept<SparText> | null> {
    const records = await list_bench<SparText>('spars', { batch_id });
    return records.find(({ name }) => name === spar.id) ?? null;
  }

  #saved(key: string, record: Kept<SparText>, sent: SparText): void {
    this.rows = this.rows.map((each) => (each.key === key ? { ...each, record, unsaved: each.spar !== sent } : each));
    this.#keep_local();
  }

  async #guarded(work: () => Promise<void>): Promise<boolean> {
    this.problems = [];
    try {
      await work();
      return true;
    } catch (error) {
      if (error instanceof Overtaken) await this.load();
      this.problems = words_of(error);
      return false;
    }
  }

  #show(rows: Row[]): void {
    this.rows = [...rows].sort((a, b) => by_name.compare(a.spar.id, b.spar.id));
    this.#changed();
  }

  #changed(): void {
    for (const listener of this.#listeners) listener();
  }

  #keep_local(): void {
    if (this.open) keep_local(this.open.id, { unsaved: this.rows.filter(({ unsaved }) => unsaved), undo: this.undo });
  }
}

export const book = new Book();

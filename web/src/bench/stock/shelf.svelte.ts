// The shelf of stock: each sheet, strip, film or wire a record of the workshop; one of them under the hand.
import type { BenchQuestion } from '../../api/bench';
import type { JobTable, Problem } from '../../api/types';
import { design } from '../../store/design.svelte';
import { words_of } from '../../store/saving.svelte';
import { instruments } from '../blades/pair.svelte';
import { is_blank } from '../kit/blank';
import { Kept } from '../kit/kept.svelte';
import { cleaned, part_of } from '../kit/question';
import { bench_records, type BenchRecord } from '../kit/records';

export type StockKind = 'sheet' | 'strip' | 'film' | 'tissue' | 'wire' | 'glue';
type Field = { name: string; label: string; unit: 'length' | 'fine' | 'mass' | ''; placeholder?: string };

const count: Field = { name: 'count', label: 'Pieces', unit: '', placeholder: '1' };
const mass: Field = { name: 'mass', label: 'Mass', unit: 'mass' };
const flat: Field[] = [{ name: 'length', label: 'Length', unit: 'length' }, { name: 'width', label: 'Width', unit: 'length' }];

export const kinds: Record<StockKind, { name: string; title: string; fields: Field[] }> = {
  sheet: { name: 'sheet', title: 'Sheet', fields: [...flat, { name: 'thickness', label: 'Thickness', unit: 'fine' }, mass, count] },
  strip: { name: 'strip', title: 'Strip', fields: [{ name: 'length', label: 'Length', unit: 'length' }, { name: 'width', label: 'Width', unit: 'fine' }, { name: 'thickness', label: 'Thickness', unit: 'fine' }, mass, count] },
  film: { name: 'film', title: 'Film', fields: [...flat, { name: 'thickness', label: 'Thickness', unit: 'fine' }, mass, count] },
  tissue: { name: 'tissue', title: 'Tissue', fields: [...flat, { name: 'thickness', label: 'Thickness', unit: 'fine' }, mass, count] },
  wire: { name: 'wire', title: 'Wire', fields: [{ name: 'length', label: 'Length', unit: 'length' }, { name: 'diameter', label: 'Diameter', unit: 'fine' }, mass, count] },
  glue: { name: 'glue', title: 'Glue', fields: [{ name: 'wet_mass', label: 'Wet', unit: 'mass' }, { name: 'mass', label: 'Dried', unit: 'mass' }] },
};
export const is_wood = (kind: string): boolean => kind === 'sheet' || kind === 'strip';

class Shelf {
  state = $state<'loading' | 'ready' | 'gone'>('loading');
  list = $state.raw<BenchRecord[]>([]);
  problems = $state.raw<Problem[]>([]);
  hand = new Kept({ kind: 'stocks', slot: 'stock', created: () => void this.read() });

  async start(): Promise<void> {
    try {
      await this.read();
      if (this.hand.ref === null && this.hand.blank && !this.hand.resume_unwritten()) this.fresh('sheet');
      this.state = 'ready';
    } catch (error) {
      this.state = 'gone';
      this.problems = words_of(error);
      setTimeout(() => void this.start(), 1500);
    }
  }

  #reads = 0;

  /** The answer asked for last counts: an earlier one may come in after it. */
  async read(): Promise<void> {
    const read = ++this.#reads;
    const all = await bench_records.list('stocks');
    if (read !== this.#reads) return;
    this.list = all.sort((a, b) => a.name.localeCompare(b.name, 'en', { numeric: true }));
  }

  get kind(): StockKind {
    const kind = this.hand.text('stock.kind');
    return kind in kinds ? (kind as StockKind) : (this.#kind as StockKind);
  }
  #kind = $state<string>('sheet');

  choose_kind(kind: string): void {
    this.#kind = kind;
    if (!this.hand.blank) this.hand.set('stock.kind', kind);
    else if (this.hand.ref === null) this.hand.fresh(this.free_name(kind as StockKind));
  }

  /** Writes one field; the kind goes along with the first. */
  set(name: string, value: string | undefined): void {
    if (this.hand.text('stock.kind') === '' && value) this.hand.set('stock.kind', this.kind);
    this.hand.set(`stock.${name}`, value);
  }

  fresh(kind: StockKind): void {
    this.#kind = kind;
    this.hand.fresh(this.free_name(kind));
  }

  /** The one under the hand is kept, and the next of its kind begun. */
  async next(): Promise<void> {
    const kind = this.kind;
    await this.hand.flush();
    if (this.hand.theirs || (this.hand.dirty && this.hand.ref === null && !this.hand.blank)) return;
    await this.read();
    this.fresh(kind);
  }

  async edit(record: BenchRecord): Promise<void> {
    await this.hand.flush();
    await this.hand.open(record.id);
  }

  async put_away(record: BenchRecord): Promise<void> {
    const own = record.id === this.hand.id;
    if (own) await this.hand.flush();
    await bench_records.put_away('stocks', own && this.hand.ref ? { ...record, etag: this.hand.ref.etag } : record);
    await this.read();
    if (own) this.fresh(this.kind);
  }

  free_name(kind: StockKind): string {
    const taken = new Set(this.list.map((record) => record.name.toLowerCase()));
    for (let number = 1; ; ++number) {
      const name = `${kinds[kind].title} ${number}`;
      if (!taken.has(name.toLowerCase())) return name;
    }
  }
}

export const shelf = new Shelf();

export type StockRow = { id: string | null; name: string; table: JobTable };

/** All of the shelf as it stands, the one under the hand with what was typed last. */
export function stock_rows(): StockRow[] {
  const hand: StockRow = { id: shelf.hand.id, name: shelf.hand.name, table: part_of(shelf.hand.section, 'stock') };
  const rows = shelf.list.map((record) => (record.id === hand.id ? hand : { id: record.id, name: record.name, table: part_of(record.section, 'stock') }));
  if ((hand.id === null || !shelf.list.some((record) => record.id === hand.id)) && !is_blank(hand.table)) rows.push(hand);
  return rows;
}

export function stock_question(rows: StockRow[]): BenchQuestion | null {
  if (rows.length === 0) return null;
  return { units: design.profile, instruments: instruments(), stock: rows.map((row) => ({ ...cleaned(row.table), id: row.name })) };
}

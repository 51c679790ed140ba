// The propeller in hand: its record, its two blades, its hub and its ledger, each a record of the workshop
// that links to the others. One of them is made with the first thing that is written into it.
import type { JobTable, Problem } from '../../api/types';
import { Gone } from '../../api/client';
import { words_of } from '../../store/saving.svelte';
import { read } from '../../lib/jobpath';
import { design } from '../../store/design.svelte';
import { bears, designs_with_propellers, design_for, type NamedDesign } from './designs';
import { present_name } from './part_names';
import { Kept } from './kept.svelte';
import { bench_records, type BenchRecord } from './records';

const last_key = 'propwright-bench-propeller';
const by_hand_key = 'propwright-bench-design-by-hand';

class Assembly {
  state = $state<'loading' | 'ready' | 'gone'>('loading');
  problems = $state.raw<Problem[]>([]);
  /** All propellers of the workshop, newest first. */
  list = $state.raw<BenchRecord[]>([]);

  propeller: Kept = new Kept({ kind: 'propellers', slot: 'propeller', created: (id) => this.#opened(id) });
  a: Kept = new Kept({ kind: 'blades', slot: 'blade-a', created: (id) => this.#link('blade_a_id', id) });
  b: Kept = new Kept({ kind: 'blades', slot: 'blade-b', created: (id) => this.#link('blade_b_id', id) });
  hub: Kept = new Kept({ kind: 'hubs', slot: 'hub', created: (id) => this.#link('hub_id', id) });
  ledger: Kept = new Kept({
    kind: 'weights', slot: 'ledger',
    before_create: async () => this.#needs_propeller(),
    created: () => void this.read_list(),
  });

  /** What the propeller before was measured with: a new one begins with the same. */
  instruments = $state.raw<JobTable>({});
  /** The designs of the workshop, as last read. */
  designs = $state.raw<NamedDesign[]>([]);
  /** The design of a propeller that has no record yet was chosen by hand. */
  #chosen_new = false;
  #started = false;

  get parts(): Kept[] {
    return [this.propeller, this.a, this.b, this.hub, this.ledger];
  }

  /** The first conflict among them, if any. */
  get conflict(): Kept | null {
    return this.parts.find((part) => part.theirs !== null) ?? null;
  }

  /** Reads the propeller this tab had in hand, else the newest; else a new one. */
  async start(): Promise<void> {
    if (this.#started) return;
    this.#started = true;
    try {
      await this.read_list();
      const wanted = sessionStorage.getItem(last_key) ?? localStorage.getItem(last_key);
      const found = this.list.find((record) => record.id === wanted) ?? (wanted === 'new' ? undefined : this.list[0]);
      if (found) await this.#resume(found);
      else await this.#begin();
      this.state = 'ready';
    } catch (error) {
      this.#started = false;
      this.state = 'gone';
      this.problems = words_of(error);
      if (error instanceof Gone) setTimeout(() => void this.start(), 1500);
    }
  }

  async read_designs(): Promise<void> {
    this.designs = await designs_with_propellers().catch(() => this.designs);
  }

  /** Its parts go by the new name. A name that belongs to a design takes that design, unless another was chosen by hand. */
  async renamed(): Promise<void> {
    for (const [part] of this.#words()) {
      const name = present_name(part.name, this.propeller.name);
      if (name !== part.name) part.rename(name);
    }
    await this.read_designs();
    const { name, links, id } = this.propeller;
    if (this.#chosen_new || (id !== null && by_hand().includes(id))) return;
    this.propeller.link('design_id', design_for(name, this.designs, design.record?.id ?? null, links.design_id ?? null));
  }

  /** By hand: no name changes it any more. */
  choose_design(id: string | null): void {
    this.#chosen_new = this.propeller.id === null;
    if (this.propeller.id) remember_by_hand(this.propeller.id);
    this.propeller.link('design_id', id);
    void this.propeller.flush();
  }

  async read_list(): Promise<void> {
    this.list = await bench_records.list('propellers');
  }

  async open(record: BenchRecord): Promise<void> {
    await this.flush();
    this.#chosen_new = false;
    this.#remember(record.id);
    await this.propeller.open(record.id);
    const { links, name } = this.propeller;
    await this.#show(this.a, links.blade_a_id, `${name}, blade A`);
    await this.#show(this.b, links.blade_b_id, `${name}, blade B`);
    await this.#show(this.hub, links.hub_id, `${name}, hub`);
    await this.#show(this.ledger, await this.#ledger_of(record.id), `${name}, weights`);
  }

  /** A new propeller; what is measured with stays the same. */
  async create(): Promise<void> {
    await this.flush();
    const instruments = this.propeller.get('propeller.instruments') as JobTable | undefined;
    this.#remember('new');
    this.#chosen_new = false;
    const name = this.free_name();
    this.propeller.fresh(name, {}, this.#design_link(name));
    this.instruments = instruments ?? {};
    this.#fresh_parts(name);
  }

  /** A new blade in the place of a broken one; the old record stays in the workshop. */
  async replace(which: 'a' | 'b'): Promise<void> {
    const blade = this[which];
    await blade.flush();
    blade.fresh(`${this.propeller.name}, new blade ${which.toUpperCase()}`);
    this.propeller.link(`blade_${which}_id`, null);
  }

  async flush(): Promise<void> {
    for (const part of [this.a, this.b, this.hub, this.propeller, this.ledger]) await part.flush();
  }

  async put_away(record: BenchRecord): Promise<void> {
    await this.flush();
    const now = record.id === this.propeller.id ? { ...record, etag: this.propeller.ref?.etag ?? record.etag } : record;
    await bench_records.put_away('propellers', now);
    await this.read_list();
    if (record.id !== this.propeller.id) return;
    const next = this.list[0];
    if (next) await this.open(next);
    else await this.#begin();
  }

  free_name(): string {
    const taken = new Set(this.list.map((record) => record.name));
    for (let number = this.list.length + 1; ; ++number) {
      if (!taken.has(`Propeller ${number}`)) return `Propeller ${number}`;
    }
  }

  async #resume(record: BenchRecord): Promise<void> {
    await this.propeller.resume(record.id);
    const { links, name } = this.propeller;
    await this.#resume_part(this.a, links.blade_a_id, `${name}, blade A`);
    await this.#resume_part(this.b, links.blade_b_id, `${name}, blade B`);
    await this.#resume_part(this.hub, links.hub_id, `${name}, hub`);
    await this.#resume_part(this.ledger, await this.#ledger_of(record.id), `${name}, weights`);
  }

  /** Nothing in the workshop yet, or a new one begun before the page was loaded again. */
  async #begin(): Promise<void> {
    const name = this.free_name();
    if (!(await this.propeller.resume(null))) this.propeller.fresh(name, {}, this.#design_link(name));
    for (const [part, word] of this.#words()) if (!(await part.resume(null))) part.fresh(`${this.propeller.name}, ${word}`);
  }

  #words(): [Kept, string][] {
    return [[this.a, 'blade A'], [this.b, 'blade B'], [this.hub, 'hub'], [this.ledger, 'weights']];
  }

  #fresh_parts(name: string): void {
    for (const [part, word] of this.#words()) part.fresh(`${name}, ${word}`);
  }

  /** Never to what merely is open: its propeller has to bear the name. */
  #design_link(name: string): { [name: string]: string } {
    return design.record && bears(String(read(design.document.job, 'propeller.name') ?? ''), name) ? { design_id: design.record.id } : {};
  }

  async #ledger_of(propeller_id: string): Promise<string | undefined> {
    return (await bench_records.list('weights', { propeller_id }))[0]?.id;
  }

  async #show(part: Kept, id: string | undefined, name: string): Promise<void> {
    if (id) await part.open(id);
    else part.fresh(name);
  }

  async #resume_part(part: Kept, id: string | undefined, name: string): Promise<void> {
    if (!(await part.resume(id ?? null))) part.fresh(name);
  }

  #link(name: string, id: string): void {
    this.#begin_propeller();
    this.propeller.link(name, id);
    void this.propeller.flush();
  }

  /** A propeller without a word of its own gets the day it was begun, so that it is kept. */
  #begin_propeller(): void {
    if (!this.propeller.ref && this.propeller.blank) this.propeller.set('propeller.begun', new Date().toISOString().slice(0, 10));
  }

  /** The ledger links to the propeller, so that one must be there first. */
  async #needs_propeller(): Promise<void> {
    if (!this.propeller.ref) {
      this.#begin_propeller();
      await this.propeller.flush();
    }
    if (this.propeller.id) this.ledger.link('propeller_id', this.propeller.id);
  }

  #opened(id: string): void {
    if (this.#chosen_new) remember_by_hand(id);
    this.#chosen_new = false;
    this.#remember(id);
    void this.read_list();
  }

  #remember(id: string): void {
    try {
      sessionStorage.setItem(last_key, id);
      localStorage.setItem(last_key, id);
    } catch {
      // Storage off: the newest propeller opens next time.
    }
  }
}

function by_hand(): string[] {
  try {
    const kept = JSON.parse(localStorage.getItem(by_hand_key) ?? '[]') as unknown;
    return Array.isArray(kept) ? kept.filter((each): each is string => typeof each === 'string') : [];
  } catch {
    return [];
  }
}

function remember_by_hand(id: string): void {
  try {
    localStorage.setItem(by_hand_key, JSON.stringify([...by_hand().filter((each) => each !== id), id].slice(-500)));
  } catch {
    // Storage off: a later rename may take the design of that name.
  }
}

export const assembly = new Assembly();

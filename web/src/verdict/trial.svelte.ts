// What is compared: the flights of the workshop or of the example, the designs their propellers were built to, and what is
// believed beforehand. The answers hang on it. What the builder chose is kept in this browser.
import { answer, api, client, Gone, Refused, said } from '../api/client';
import type { Beliefs, LearnAnswer, LearnQuestion, Thresholds, VerdictAnswer, VerdictQuestion } from '../api/verdict';
import type { DesignDocument, DesignSummary, JobTable, Problem } from '../api/types';
import type { LoggedFlight } from '../floor/flight';
import { read, same, write } from '../lib/jobpath';
import { design } from '../store/design.svelte';
import { records } from '../store/records';
import { made_after } from '../bench/kit/designs';
import { bench_records, type BenchRecord } from '../bench/kit/records';
import { words_of } from '../store/saving.svelte';
import { Asking } from './asking.svelte';
import { compared, flown_in, learned_for, named, paired, title_of, told_apart, type Design, type Flown, type Pairs } from './pairs';

const page_size = 1000;
/** As many as the program weighs at once. */
const most_flights = 5000;
/** Designs looked at for a propeller's name, the ones saved last. */
const most_designs = 100;
const at_once = 6;
/** As many as a verdict tells apart on one page. */
export const most_compared = 4;
const open_id = 'open';
const keys = { pairs: 'propwright-verdict-pairs', chosen: 'propwright-verdict-chosen', beliefs: 'propwright-verdict-beliefs', learning: 'propwright-verdict-learning' };

type Believed = { beliefs: Beliefs; thresholds: Thresholds };
export type ExampleLog = { title: string; note: string; flights: LoggedFlight[]; designs: Design[] };

function kept<T>(key: string, none: T): T {
  try {
    return (JSON.parse(localStorage.getItem(key) ?? 'null') as T | null) ?? none;
  } catch {
    return none;
  }
}

function keep(key: string, value: unknown): void {
  try {
    localStorage.setItem(key, JSON.stringify(value));
  } catch {
    // Storage off or full: it lasts as long as the page.
  }
}

const with_learned = (document: DesignDocument, table: JobTable): DesignDocument => ({ ...document, job: write(document.job, 'learned', learned_for(document, table)) });

class Trial {
  state = $state<'loading' | 'ready' | 'gone'>('loading');
  problems = $state.raw<Problem[]>([]);
  #own = $state.raw<LoggedFlight[]>([]);
  #total = $state(0);
  #saved = $state.raw<Design[]>([]);
  /** The invented flights, while they are looked at; nothing of them is kept. */
  example = $state.raw<ExampleLog | null>(null);
  #pairs = $state.raw<Pairs>(kept(keys.pairs, {}));
  #chosen = $state.raw<string[] | null>(kept<string[] | null>(keys.chosen, null));
  #example_chosen = $state.raw<string[] | null>(null);
  believed = $state.raw<Believed>(kept(keys.beliefs, { beliefs: {}, thresholds: {} }));
  /** Whether expected times are those of the model as learned, or as the sheet has it. */
  learning = $state<boolean>(kept(keys.learning, true));

  verdict = new Asking<VerdictQuestion, VerdictAnswer>((question, signal) => api.verdict(question, signal));
  learned = new Asking<LearnQuestion, LearnAnswer>((question, signal) => api.learn(question, signal));

  #told = $derived(told_apart(this.example?.flights ?? this.#own));
  /** Settings of one propeller are told apart; what tells none of several stands in `untold`. */
  flights = $derived(this.#told.flights);
  untold = $derived(this.#told.untold);
  /** A design that was never saved can be paired all the same, as long as it is open. */
  designs = $derived<Design[]>(this.example?.designs ?? [
    ...(design.record === null && Object.keys(design.document.job).length > 0 ? [{ id: open_id, title: `${design.name}, open here, not saved`, document: design.document }] : []),
    ...this.#saved,
  ]);
  flown = $derived<Flown[]>(flown_in(this.flights));
  names = $derived(compared(this.example ? this.#example_chosen : this.#chosen, this.flown).slice(0, most_compared));
  /** Earlier flights of the log that are not looked at. */
  earlier = $derived(this.example ? 0 : Math.max(0, this.#total - this.#own.length));
  unnamed = $derived(this.flights.filter(({ propeller }) => !propeller).length);
  /** Of those compared, in the order of the log. */
  taken = $derived(this.flights.filter(({ propeller }) => propeller !== undefined && this.names.includes(propeller)));
  without_design = $derived(this.names.filter((name) => this.design_of(name) === null));

  #jobs = $derived(this.without_design.length > 0 ? null : this.names.map((name) => named(this.design_of(name)!.document, name)));
  question = $derived.by((): VerdictQuestion | null => {
    if (this.state !== 'ready' || this.names.length < 2) return null;
    const { beliefs, thresholds } = this.believed;
    return { flights: this.taken, ...(this.#jobs ? { jobs: this.#jobs, learn: this.learning } : {}), beliefs, thresholds };
  });
  learn_question = $derived.by((): LearnQuestion | null =>
    this.state === 'ready' && this.#jobs && this.names.length > 0 ? { flights: this.taken, jobs: this.#jobs } : null);

  /** Propellers of the bench, and by their names the designs that their records name. */
  #propellers: readonly BenchRecord[] = [];
  #made_after = $state.raw<Pairs>({});
  #documents = new Map<string, DesignDocument>();

  /** Each reading has its number: one that was overtaken says nothing any more. */
  #reading = 0;

  async start(): Promise<void> {
    const reading = ++this.#reading;
    try {
      const [own, saved, propellers] = await Promise.all([last_flights(), this.#all_designs(), bench_records.list('propellers')]);
      if (reading !== this.#reading) return;
      this.#know(propellers);
      this.#own = own.flights;
      this.#total = own.total;
      this.#saved = saved;
      this.problems = [];
      this.state = 'ready';
    } catch (error) {
      if (reading !== this.#reading) return;
      if (error instanceof Refused) this.problems = error.problems;
      else if (error instanceof Gone) this.problems = [said('The program does not answer', 'Nothing is lost here: look whether it still runs')];
      else throw error;
      if (this.state === 'loading') this.state = 'gone';
    }
  }

  leave(): void {
    this.verdict.leave();
    this.learned.leave();
  }

  design_of(name: string): Design | null {
    const propeller = this.#told.propeller_of.get(name) ?? name;
    if (this.example) return paired(name, {}, this.designs);
    // Said here of this setting, else what the propeller's record says (it is said on the bench), else by the names.
    const said = this.#pairs[name] ?? this.#made_after[propeller] ?? this.#pairs[propeller];
    return paired(propeller, said === undefined ? {} : { [propeller]: said }, this.designs);
  }

  /** Of a propeller with a record this is said there, for Wind and the bench as well; else in this browser. */
  async pair(name: string, id: string): Promise<void> {
    const record = this.#propellers.find((each) => each.name === name);
    const { [name]: before, ...others } = this.#pairs;
    this.#pairs = record && id !== open_id ? others : { ...others, [name]: id };
    keep(keys.pairs, this.#pairs);
    if (!record || id === open_id) return;
    this.#made_after = { ...this.#made_after, [name]: id };
    try {
      await made_after(record.id, id || null);
    } catch (error) {
      this.#pairs = before === undefined ? this.#pairs : { ...this.#pairs, [name]: before };
      this.problems = words_of(error);
    }
    this.#know(await bench_records.list('propellers').catch(() => this.#propellers));
  }

  #know(propellers: readonly BenchRecord[]): void {
    this.#propellers = propellers;
    this.#made_after = Object.fromEntries(propellers.filter(({ links }) => links.design_id).map(({ name, links }) => [name, links.design_id!]));
  }

  /** One more, or one fewer, of those compared. */
  choose(name: string, wanted: boolean): void {
    const next = wanted ? [...this.names, name] : this.names.filter((other) => other !== name);
    if (this.example) {
      this.#example_chosen = next;
      return;
    }
    this.#chosen = next;
    keep(keys.chosen, next);
  }

  believe(part: keyof Believed, key: string, value: number | boolean | null): void {
    const next = { ...this.believed[part], [key]: value ?? undefined };
    this.believed = { ...this.believed, [part]: next };
    keep(keys.beliefs, this.believed);
  }

  /** Grows with each return to what is usual: what stands in the fields goes with it, also what was not understood. */
  usual_again = $state(0);

  believe_usual(): void {
    ++this.usual_again;
    this.believed = { beliefs: {}, thresholds: {} };
    keep(keys.beliefs, this.believed);
  }

  learn(wanted: boolean): void {
    this.learning = wanted;
    keep(keys.learning, wanted);
  }

  /** Whether the design of a propeller holds just what was learned, and uses it. */
  uses(name: string, table: JobTable): boolean {
    const design = this.design_of(name);
    return design !== null && same((read(design.document.job, 'learned') ?? {}) as JobTable, learned_for(design.document, table));
  }

  /**
   * Puts what was learned into the propeller's design: the open one under the hand, to be saved there, another in the
   * workshop. What it says is for the builder.
   */
  async use_learned(name: string, table: JobTable): Promise<string> {
    const chosen = this.design_of(name);
    if (!chosen) return '';
    if (chosen.id === open_id || chosen.id === design.record?.id) {
      design.set('learned', learned_for(chosen.document, table));
      if (chosen.id !== open_id) this.#saved = this.#saved.map((each) => (each.id === chosen.id ? { ...each, document: with_learned(each.document, table) } : each));
      return 'The design is open here: save it to keep it.';
    }
    const { document, record } = await records.open(chosen.id);
    const kept = await records.save(record, record.name, with_learned(document, table), 'what flights taught');
    this.#saved = this.#saved.map((each) => (each.id === chosen.id ? { ...each, document: kept.document } : each));
    // A list that was asked for before holds the design as it was: it is overtaken.
    void this.start();
    return `Kept in ${kept.record.name}, version ${kept.record.version}.`;
  }

  show_example(example: ExampleLog | null): void {
    this.#example_chosen = null;
    this.example = example;
  }

  async #all_designs(): Promise<Design[]> {
    const { items } = await records.page({ q: '', archived: 'false', sort: '-updated_at', offset: 0, limit: most_designs });
    const found: Design[] = [];
    for (let from = 0; from < items.length; from += at_once) {
      const part = items.slice(from, from + at_once);
      found.push(...(await Promise.all(part.map(async (item) => ({ id: item.id, title: title_of(item), document: await this.#document(item) })))));
    }
    return found;
  }

  /** Read once for each state of the record. */
  async #document({ id, etag }: DesignSummary): Promise<DesignDocument> {
    const key = `${id} ${etag}`;
    const known = this.#documents.get(key) ?? (await records.open(id)).document;
    this.#documents.set(key, known);
    return known;
  }
}

/** In the order flown; of a very long log its last part. */
async function last_flights(): Promise<{ flights: LoggedFlight[]; total: number }> {
  const flights: LoggedFlight[] = [];
  for (;;) {
    const query = { limit: page_size, offset: flights.length, sort: '-name' };
    const { body } = await answer(client.GET('/api/flights', { params: { query } }));
    flights.push(...body.items.map(({ flight }) => flight));
    if (body.items.length < page_size || flights.length >= most_flights) return { flights: flights.reverse(), total: body.total };
  }
}

export const trial = new Trial();

// The winding card under the hand: the design it is for, the answer of the program to the air and the winder of today, and
// the last one kept, which is shown while the program is away.
import type { DesignDocument, Problem } from '../api/types';
import { Gone, Refused } from '../api/client';
import { read, write } from '../lib/jobpath';
import { air, type AirField } from './air.svelte';
import type { OfCard } from './draft';
import { logging } from './logging.svelte';
import type { Today } from './remote';
import { wound_to, type BatchBreaks, type WoundTo } from './risk';
import { setup } from './setup.svelte';
import { store, stored } from './storage';
import { answers, choice_of, counted, design_of, flown_by, hooked, mark_of, meter_of, motor_of_card, newer, only_rounded, same_name, unchanged, without, type Choices, type Counted, type Flyable, type KeptCard, type Question } from './wind';

const card_key = 'propwright-floor-card';
const retry_ms = 2000;

class WindCard {
  kept = $state.raw<KeptCard | null>(null);
  asking = $state(false);
  /** The turns at which a motor broke are asked for. */
  breaking = $state(false);
  problems = $state.raw<Problem[]>([]);
  /** Of the workshop; null until they are known. */
  designs = $state.raw<Flyable[] | null>(null);
  /** What the propellers' own records say goes before what was chosen in this browser. */
  #made_after = $state.raw<Choices>({});
  /** Of one batch, by its name. */
  #breaks = $state.raw<{ batch: string; of: BatchBreaks | null } | null>(null);
  #asks = 0;

  /** The open one first, as it stands under the hand. */
  flyable = $derived.by<Flyable[]>(() => {
    const open = setup.remote?.open ?? null;
    return open ? [open, ...(this.designs ?? []).filter(({ id }) => id !== open.id)] : (this.designs ?? []);
  });
  #choices = $derived<Choices>({ ...setup.now.choices, ...this.#made_after });
  /** The design to wind for, in the units of the floor; null where the program's designs are not known. */
  flying = $derived.by(() => {
    const { propeller, model } = logging.draft.carried;
    const found = setup.remote && this.designs ? design_of(this.flyable, propeller, model, this.#choices) : null;
    if (!found) return null;
    const document: DesignDocument = { ...found.design.document, job: write(found.design.document.job, 'job.units', setup.now.profile) };
    return { ...found, document, key: `${found.design.id} ${mark_of(document)}` };
  });
  /** The motor on the winder is a record of the workshop; while a flight is in hand nobody knows which it is. */
  motor_known = $derived(!logging.in_hand && setup.names.motors.some((name) => same_name(name, logging.draft.carried.motor ?? '')));
  /** The motor on the winder as the card has it, where the card is for it. */
  of_card = $derived<OfCard>(motor_of_card(this.kept, this.flying, this.motor_known));
  /** The rubber of the design. */
  batch = $derived<string | null>(this.flying ? String(read(this.flying.document.job, 'rubber.name') ?? '') : null);
  /** Null: to the job's share; undefined: the breaks of the batch are not known yet. */
  wound_to = $derived.by<WoundTo | null | undefined>(() => {
    if (setup.now.risk === 'job') return null;
    return this.batch !== null && this.#breaks?.batch === this.batch ? wound_to(setup.now.risk, this.#breaks.of) : undefined;
  });
  /** All that the card has to be the answer to. */
  question = $derived<Question>({
    today: air.today, winder_ratio: setup.now.winder_ratio, meter: meter_of(setup.now.meter), key: this.flying?.key ?? null,
    risk: setup.now.risk, wound_to: this.wound_to && mark_of(this.wound_to),
  });
  is_todays = $derived(this.kept !== null && answers(this.kept, this.question));
  /** Turns of the motor that a winding comes to: of the card, else of the flight before. Null: not known. */
  usual_turns = $derived<number | null>((this.kept ? counted(this.kept.answer)?.stop.turns : undefined) ?? logging.last?.turns_wound ?? null);

  /** The later of the one kept here and the one that a saved page took along. */
  begin(taken: KeptCard | null): void {
    this.kept = newer(stored(card_key) as KeptCard | null, taken);
  }

  #keep(card: KeptCard): void {
    this.kept = card;
    store(card_key, card);
  }

  async read_designs(): Promise<void> {
    try {
      const [designs, made_after] = await Promise.all([setup.remote?.designs(), setup.remote?.made_after()]);
      this.#made_after = made_after ?? {};
      this.designs = designs ?? null;
    } catch (error) {
      if (!(error instanceof Gone) && !(error instanceof Refused)) throw error;
    }
  }

  /** The breaks of the batch as the workshop has them now; the card waits for them. */
  async read_breaks(batch: string): Promise<void> {
    try {
      const of = batch === '' ? null : await setup.remote?.breaks_of(batch);
      if (of !== undefined && batch === this.batch) this.#breaks = { batch, of };
    } catch (error) {
      if (!(error instanceof Gone) && !(error instanceof Refused)) throw error;
      setTimeout(() => batch === this.batch && this.#breaks?.batch !== batch && void this.read_breaks(batch), retry_ms);
    }
  }

  /** The design that flies now: of the propeller in hand where no design has its name, else with its own propeller. */
  choose_design(id: string): void {
    const design = this.flyable.find((each) => each.id === id);
    if (!design) return;
    const named = logging.draft.carried.propeller;
    const theirs = named !== undefined && !this.flyable.some(({ propeller }) => same_name(propeller, named));
    this.flies_with(theirs ? named : design.propeller, id);
    if (!theirs) logging.change({ carried: flown_by(logging.draft.carried, design) });
  }

  /** Said by the builder; kept with the propeller where it has a record, and here. */
  flies_with(propeller: string, design_id: string): void {
    const key = choice_of(propeller);
    setup.change({ choices: { ...setup.now.choices, [key]: design_id } });
    if (this.#made_after[key] !== undefined) this.#made_after = { ...this.#made_after, [key]: design_id };
    if (this.kept?.of?.id === design_id) this.#keep({ ...this.kept, flies: this.#flies_with(design_id) });
    // Without the program it stays in this browser.
    if (design_id !== '') void setup.remote?.say_design(propeller, design_id).catch(() => undefined);
  }

  #flies_with(design_id: string): string[] {
    return Object.entries(this.#choices).filter(([, id]) => id === design_id).map(([key]) => key);
  }

  async ask(): Promise<void> {
    const { flying, question, wound_to } = this, { remote, now: { meter } } = setup;
    const { today, winder_ratio, risk } = question;
    this.asking = remote !== null && flying !== null;
    if (!remote || !flying || wound_to === undefined) return;
    const ask = ++this.#asks;
    const { document, key, design: { id, title, learned } } = flying;
    const still = () => ask === this.#asks && JSON.stringify(this.question) === JSON.stringify(question);
    try {
      let answer = await remote.wind(document, today, winder_ratio, meter, wound_to);
      const same = only_rounded(answer);
      if (same.length > 0) answer = await remote.wind(document, without(today, same), winder_ratio, meter, wound_to);
      if (!still()) return;
      this.#keep({ answer, today, winder_ratio, meter: question.meter, risk, wound_to: question.wound_to ?? null, asked_ms: Date.now(), of: { id, title, key, learned }, flies: this.#flies_with(id) });
      this.problems = [];
    } catch (error) {
      if (!(error instanceof Gone) && !(error instanceof Refused)) throw error;
      if (still()) this.problems = error instanceof Refused ? error.problems : [];
    } finally {
      if (ask === this.#asks) this.asking = false;
    }
  }

  print(paper: 'a4' | 'letter'): Promise<Blob> {
    const { flying, kept } = this, { remote, now: { winder_ratio, meter } } = setup;
    if (!remote || !flying || !kept) return Promise.reject(new Gone('there is no card'));
    const today: Today = without(air.today, this.is_todays ? unchanged(kept) : []);
    return remote.print(flying.document, today, winder_ratio, meter, this.wound_to ?? null, paper);
  }

  /** What is wrong with a reading of today: as the program said it, or without one by the ranges of the log. */
  problems_of(field: AirField): Problem[] {
    return setup.remote ? this.problems.filter((problem) => problem.field === `today.${field}`) : air.out_of_range(field);
  }

  /** The flight in hand is wound as the card says. */
  hooked_up(winding: Counted): void {
    const { kept, flying } = this;
    if (kept) logging.change(hooked(logging.draft, kept.answer, winding, flying?.sure ?? true));
  }
}

export const wind_card = new WindCard();

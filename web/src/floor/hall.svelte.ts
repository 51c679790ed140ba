// What the floor has in hand: the units and the air of today, the flight being logged with its undo, the last
// winding card. All of it outlasts a reload.
import type { DesignDocument, Problem, Profile } from '../api/types';
import { Gone, Refused } from '../api/client';
import { book } from './book.svelte';
import { after_break, break_of, with_motor_of, next_after, of_day, row_of, taken_back, duration_of, blank, type Draft } from './draft';
import { day_of, local_time, new_id, type Column, type LoggedFlight } from './flight';
import { write } from '../lib/jobpath';
import { named_by } from './contender';
import { switched, type Switched } from './order';
import { kept_row, questions_of } from './questions';
import type { Meter, Names, Remote, Today } from './remote';
import { at_rest, landed, launched, phase, read_watch, topped } from './stopwatch';
import { read as read_number, scale_of, torque_units, with_unit, type Measure, type Scale, type TorqueUnit } from './units';
import { answers, choice_of, design_of, mark_of, flown_by, hooked, only_rounded, same_name, without, type Choices, type Counted, type Flyable, type KeptCard } from './wind';

/** The air and the roof of one day; `left`: not asked for on that day. */
type DaysAir = { day: string; values: Partial<Record<AirField, number>>; left?: boolean };
export const air_fields = ['temperature', 'humidity', 'pressure', 'roof'] as const;
export type AirField = (typeof air_fields)[number];

/** The torque unit follows the others until one is chosen. */
type Setup = { profile: Profile; torque_unit: TorqueUnit; unit_chosen: boolean; winder_ratio: number; meter_id: string | null; /** Which design a propeller flies with, as chosen on Wind. */ choices: Choices };
/** What a page saved as a file takes along from the workshop. */
export type TakenAlong = {
  made_at: string;
  profile: Profile;
  torque_unit: TorqueUnit;
  winder_ratio: number;
  card: KeptCard | null;
  air: Partial<Record<AirField, number>>;
  names: Names;
  flights: { flight: LoggedFlight; revision: number }[];
};

const keys = { setup: 'propwright-floor-setup', air: 'propwright-floor-air', draft: 'propwright-floor-draft', card: 'propwright-floor-card' };
const usual_torque: Record<Profile, TorqueUnit> = { metric: 'mN·m', inch: 'in-oz' };
const undo_depth = 50;
/** One button launches, lands and keeps, ms: a finger that comes down twice does not do two of them. */
const twice_ms = 600;
/** For so long a break that was kept can be taken back. */
const hold_ms = 30000;

function kept(key: string): unknown {
  try {
    return JSON.parse(localStorage.getItem(key) ?? 'null');
  } catch {
    return null;
  }
}

function keep(key: string, value: unknown): void {
  try {
    localStorage.setItem(key, JSON.stringify(value));
  } catch {
    // Storage off or full: it lasts as long as the page.
  }
}

const day_now = (): string => local_time(Date.now()).slice(0, 10);

export const column_of_air = { temperature: 'temperature_K', humidity: 'humidity', pressure: 'pressure_Pa', roof: 'roof_m' } as const;
const measure_of_air: Record<AirField, Measure> = { temperature: 'temperature', humidity: 'humidity', pressure: 'pressure', roof: 'height' };
/** As the program takes them; asked of it wherever it answers. */
const air_ranges: Record<AirField, readonly [number, number]> = { temperature: [253.15, 323.15], humidity: [0, 1], pressure: [60000, 110000], roof: [2, 120] };
/** As the program reads units. */
const unit_words: Record<string, string> = { '°C': 'degC', '°F': 'degF', hPa: 'hPa', inHg: 'inHg', '%': '%', m: 'm', ft: 'ft' };

type Act = 'launch' | 'land' | 'keep' | 'break';

class Hall {
  setup = $state.raw<Setup>({ profile: 'metric', torque_unit: 'mN·m', unit_chosen: false, winder_ratio: 1, meter_id: null, choices: {} });
  /** SI, of one day. */
  #days_air = $state.raw<DaysAir>({ day: day_now(), values: {} });
  air = $derived(this.#days_air.values);
  draft = $state.raw<Draft>(blank('f'));
  card = $state.raw<KeptCard | null>(null);
  meters = $state.raw<Meter[]>([]);
  names = $state.raw<Names>({ propellers: [], motors: [] });
  /** Milliseconds since 1970; goes on while a flight is in the air. */
  now_ms = $state(Date.now());
  told = $state('');
  asking = $state(false);
  /** The turns at which a motor broke are asked for. */
  breaking = $state(false);
  problems = $state.raw<Problem[]>([]);
  /** Of the workshop; null until they are known. */
  designs = $state.raw<Flyable[] | null>(null);
  /** What the propellers' own records say goes before what was chosen in this browser. */
  #made_after = $state.raw<Choices>({});
  remote = $state.raw<Remote | null>(null);
  /** The browser keeps the pages: they load again without the program. */
  pages_kept = $state(false);
  #past = $state.raw<Draft[]>([]);
  /** The flight before its motor broke. */
  #unbroken: Draft | null = null;
  #asks = 0;
  #started = false;
  #acted = { act: '', at_ms: 0 };

  phase = $derived(phase(this.draft.watch));
  duration_s = $derived(duration_of(this.draft, this.now_ms));
  row = $derived(row_of(this.draft, this.now_ms));
  questions = $derived(questions_of(this.draft, this.row));
  /** A flight that is in the log already. */
  correcting = $derived(book.entry(this.draft.id) !== undefined);
  /** "2026-11-21": today, as of the last launch or look at the page. */
  day = $derived(this.#days_air.day);
  /** Nobody told the air of today yet, nor said that it stays unknown. */
  air_wanted = $derived(!this.#days_air.left && Object.keys(this.air).length === 0);
  /** A flight in the air, not kept yet or put right: it has its own winding. */
  in_hand = $derived(this.phase !== 'ready' || this.duration_s !== null || book.entry(this.draft.id) !== undefined);
  changed = $derived(this.#past.length > 0);
  meter = $derived<Meter | null>(this.meters.find(({ id }) => id === this.setup.meter_id) ?? null);
  can_undo = $derived(this.#past.length > 0 || (this.phase === 'ready' && this.draft.base === null && book.last !== null));
  today = $derived<Today>(this.#today());
  /** The open one first, as it stands under the hand. */
  flyable = $derived.by<Flyable[]>(() => {
    const open = this.remote?.open ?? null;
    return open ? [open, ...(this.designs ?? []).filter(({ id }) => id !== open.id)] : (this.designs ?? []);
  });
  /** The design to wind for, in the units of the floor; null where the program's designs are not known. */
  flying = $derived.by(() => {
    const { propeller, model } = this.draft.carried;
    const found = this.remote && this.designs ? design_of(this.flyable, propeller, model, { ...this.setup.choices, ...this.#made_after }) : null;
    if (!found) return null;
    const document: DesignDocument = { ...found.design.document, job: write(found.design.document.job, 'job.units', this.setup.profile) };
    return { ...found, document, key: `${found.design.id} ${mark_of(document)}` };
  });
  card_is_todays = $derived(this.card !== null && answers(this.card, this.today, this.setup.winder_ratio, this.flying?.key ?? null));

  async start(remote: Remote | null, taken: TakenAlong | null, known: Profile | null): Promise<void> {
    this.remote = remote;
    if (this.#started) {
      await book.start(remote);
      return;
    }
    this.#started = true;
    const setup = kept(keys.setup) as Partial<Setup> | null;
    const profile = known ?? setup?.profile ?? 'metric';
    // Spelt "in·oz" by pages before this one.
    const chosen = setup?.unit_chosen ? torque_units.find((unit) => unit === setup.torque_unit?.replace('in·oz', 'in-oz')) : undefined;
    this.setup = {
      profile: taken?.profile ?? profile,
      torque_unit: chosen ?? taken?.torque_unit ?? usual_torque[profile],
      unit_chosen: chosen !== undefined || taken !== null,
      winder_ratio: setup?.winder_ratio ?? taken?.winder_ratio ?? 1,
      meter_id: setup?.meter_id ?? null,
      choices: setup?.choices ?? {},
    };
    // Only one that the workshop has is sent: another file may be open there by now.
    book.meter_id = () => this.meter?.id ?? null;
    const air = kept(keys.air) as Partial<DaysAir> | null;
    if (air?.values && air.day === day_now()) this.#days_air = { day: air.day, values: air.values, left: air.left === true };
    else if (taken && local_time(Date.parse(taken.made_at)).slice(0, 10) === day_now()) this.#days_air = { day: day_now(), values: taken.air };
    const card = kept(keys.card) as KeptCard | null;
    this.card = newer(card, taken?.card ?? null);
    if (taken) this.names = taken.names;
    await book.start(remote);
    if (taken) await book.lay_in(taken.flights);
    const draft = kept(keys.draft) as Draft | null;
    this.draft = draft?.id ? { ...blank(draft.id), ...draft, watch: read_watch(draft.watch) } : this.#next();
    this.#new_day();
    document.addEventListener('visibilitychange', () => this.#new_day());
    setInterval(() => {
      if (this.phase === 'flying') this.now_ms = Date.now();
    }, 100);
    this.read_names();
  }

  /** What the workshop has to offer for a flight: names, and the torque meters. */
  read_names(): void {
    this.remote?.names().then((names) => (this.names = names), () => undefined);
    this.remote?.meters().then((meters) => (this.meters = meters), () => undefined);
  }

  scale(measure: Measure): Scale {
    return scale_of(measure, this.setup.profile, this.setup.torque_unit);
  }

  set_up(change: Partial<Setup>): void {
    const torque_unit = change.profile && !this.setup.unit_chosen ? usual_torque[change.profile] : this.setup.torque_unit;
    this.setup = { ...this.setup, torque_unit, ...change };
    keep(keys.setup, this.setup);
  }

  /** The air of today is the air of the flight in hand, and of the card; a flight put right has its own. */
  breathe(field: AirField, value: number | null, of: 'today' | 'flight' = 'today'): void {
    this.#new_day();
    const lasts = this.draft.id === book.last?.id && day_of(book.last) === this.#days_air.day;
    if (of === 'today' || !this.correcting || lasts) {
      const values = { ...this.air };
      if (value === null) delete values[field];
      else values[field] = value;
      this.#keep_air({ ...this.#days_air, values });
    }
    if (of === 'flight' || !this.correcting) this.carry({ [column_of_air[field]]: value ?? undefined });
  }

  leave_air(): void {
    this.#new_day();
    this.#keep_air({ ...this.#days_air, left: true });
  }

  #air_of_today(): string {
    const day = day_now();
    if (this.#days_air.day !== day) this.#keep_air({ day, values: {} });
    return day;
  }

  #keep_air(air: DaysAir): void {
    this.#days_air = air;
    keep(keys.air, air);
  }

  /** Yesterday's air does not go into today's log, also where the page stood open over night. */
  #new_day(): void {
    const day = this.#air_of_today();
    if (this.draft.day !== day && this.phase === 'ready' && this.duration_s === null && !this.correcting) this.#show(of_day(this.draft, day));
  }

  read_air(field: AirField, text: string): number | null | undefined {
    return read_number(text, this.scale(measure_of_air[field]));
  }

  air_scale(field: AirField): Scale {
    return this.scale(measure_of_air[field]);
  }

  #today(): Today {
    const today: Record<string, string> = {};
    for (const [field, value] of Object.entries(this.air)) {
      const scale = this.air_scale(field as AirField);
      // In full: what is rounded for the eye is no other value than the sheet's.
      today[field] = `${Number((value * scale.factor + scale.offset).toPrecision(10))} ${unit_words[scale.unit] ?? scale.unit}`;
    }
    return today;
  }

  // --- the flight in hand --------------------------------------------------------------------------

  /** What is entered anew is no longer what was not understood; `fields`: entered besides those of `change`. */
  change(change: Partial<Draft>, fields: readonly string[] = []): void {
    this.#past = [...this.#past.slice(-undo_depth + 1), this.draft];
    const unread = { ...this.draft.unread, ...change.unread };
    const entered = Object.entries(change.carried ?? {}).filter(([column, value]) => value !== this.draft.carried[column as Column]).map(([column]) => column);
    for (const field of [...Object.keys(change), ...entered, ...fields]) delete unread[field];
    this.#show({ ...this.draft, ...change, unread });
  }

  carry(columns: Partial<LoggedFlight>): void {
    this.change({ carried: { ...this.draft.carried, ...columns } }, Object.keys(columns));
  }

  /** Typed into a field and not understood: it is kept as unknown, and the text goes into the notes. */
  misread(field: string, text: string): void {
    this.change({ unread: { ...this.draft.unread, [field]: text.trim() } });
  }

  /** Another propeller or motor, with what belongs to it. */
  switch(what: Switched, name: string): void {
    const flights = book.entries.map(({ flight }) => flight);
    const named = named_by([this.draft.carried, ...flights]);
    const in_hand = what === 'propeller' ? named(this.draft.carried) : this.draft.carried.motor;
    if (in_hand !== name) this.carry(switched(flights, what, name, named));
  }

  /** False for a second press of the finger that did the act `before` this one. */
  #act(act: Act, before: Act): boolean {
    const now_ms = Date.now();
    if (this.#acted.act === before && Math.abs(now_ms - this.#acted.at_ms) < twice_ms) return false;
    this.#acted = { act, at_ms: now_ms };
    return true;
  }

  launch(): void {
    if (!this.#act('launch', 'keep')) return;
    this.#new_day();
    this.now_ms = Date.now();
    this.told = '';
    this.change({ watch: launched(this.now_ms), duration_s: null });
  }

  top(): void {
    this.change({ watch: topped(this.draft.watch, Date.now()) });
  }

  land(): void {
    if (!this.#act('land', 'launch')) return;
    this.now_ms = Date.now();
    this.change({ watch: landed(this.draft.watch, this.now_ms) });
  }

  /** The last change of the flight in hand; with none left, the flight kept last comes back into the hand. */
  undo(): void {
    const before = this.#past.at(-1);
    if (before) {
      this.#past = this.#past.slice(0, -1);
      this.#show(before);
      this.now_ms = Date.now();
      return;
    }
    if (book.last) this.take_back(book.last.id);
  }

  take_back(id: string): void {
    const entry = book.entry(id);
    if (!entry) return;
    this.#past = [];
    this.#show(taken_back(entry.flight, entry.base, at_rest));
    this.told = 'The flight is in hand again; what is changed is kept with the next press of Keep.';
  }

  /** Keeps the flight; what is questioned is left unknown. Then the next one is in hand. Null: a second press. */
  async keep(): Promise<LoggedFlight | null> {
    if (!this.#act('keep', 'land')) return null;
    const began = performance.now();
    const row = kept_row(this.draft, row_of(this.draft, Date.now()));
    const base = this.draft.base;
    this.#past = [];
    await book.keep(row, base);
    performance.measure('floor-kept', { start: began });
    this.#show(this.#next());
    return row;
  }

  /** A motor that broke while winding: a line of the log without a flight. The id of that line; null: a second press. */
  async broke(turns: number | null): Promise<string | null> {
    if (!this.#act('break', 'break')) return null;
    // While a flight is in hand the motor that it names is its own, not the one on the winder.
    const { draft, in_hand } = this;
    const row = break_of(in_hand ? after_break(draft) : draft, turns, new_id(Date.now()), Date.now());
    await book.keep_held(row, hold_ms);
    this.#unbroken = in_hand ? null : draft;
    if (!in_hand) this.change(after_break(draft));
    return row.id;
  }

  /** False: too late, it has been sent. */
  async unbreak(id: string): Promise<boolean> {
    if (!(await book.take_out(id))) return false;
    this.#acted = { act: '', at_ms: 0 };
    if (this.#unbroken?.id === this.draft.id) this.change(with_motor_of(this.#unbroken, this.draft));
    return true;
  }

  // --- the winding card ------------------------------------------------------------------------------

  async read_designs(): Promise<void> {
    try {
      const [designs, made_after] = await Promise.all([this.remote?.designs(), this.remote?.made_after()]);
      this.#made_after = made_after ?? {};
      this.designs = designs ?? null;
    } catch (error) {
      if (!(error instanceof Gone) && !(error instanceof Refused)) throw error;
    }
  }

  /** The design that flies now: of the propeller in hand where no design has its name, else with its own propeller. */
  choose_design(id: string): void {
    const design = this.flyable.find((each) => each.id === id);
    if (!design) return;
    const named = this.draft.carried.propeller;
    const theirs = named !== undefined && !this.flyable.some(({ propeller }) => same_name(propeller, named));
    this.flies_with(theirs ? named : design.propeller, id);
    if (!theirs) this.change({ carried: flown_by(this.draft.carried, design) });
  }

  /** Said by the builder; kept with the propeller where it has a record, and here. */
  flies_with(propeller: string, design_id: string): void {
    const key = choice_of(propeller);
    this.set_up({ choices: { ...this.setup.choices, [key]: design_id } });
    if (this.#made_after[key] !== undefined) this.#made_after = { ...this.#made_after, [key]: design_id };
    if (this.card?.of?.id === design_id) {
      this.card = { ...this.card, flies: this.#flies_with(design_id) };
      keep(keys.card, this.card);
    }
    // Without the program it stays in this browser.
    if (design_id !== '') void this.remote?.say_design(propeller, design_id).catch(() => undefined);
  }

  #flies_with(design_id: string): string[] {
    return Object.entries({ ...this.setup.choices, ...this.#made_after }).filter(([, id]) => id === design_id).map(([key]) => key);
  }

  async ask_card(): Promise<void> {
    const { remote, flying, today, setup: { winder_ratio } } = this;
    this.asking = remote !== null && flying !== null;
    if (!remote || !flying) return;
    const ask = ++this.#asks;
    const { document, key, design: { id, title, learned } } = flying;
    const still = () => ask === this.#asks && this.flying?.key === key && JSON.stringify(this.today) === JSON.stringify(today);
    try {
      let answer = await remote.wind(document, today, winder_ratio, this.meter);
      const same = only_rounded(answer);
      if (same.length > 0) answer = await remote.wind(document, without(today, same), winder_ratio, this.meter);
      if (!still()) return;
      this.card = { answer, today, winder_ratio, asked_ms: Date.now(), of: { id, title, key, learned }, flies: this.#flies_with(id) };
      keep(keys.card, this.card);
      this.problems = [];
    } catch (error) {
      if (!(error instanceof Gone) && !(error instanceof Refused)) throw error;
      if (still()) this.problems = error instanceof Refused ? error.problems : [];
    } finally {
      if (ask === this.#asks) this.asking = false;
    }
  }

  print_card(paper: 'a4' | 'letter'): Promise<Blob> {
    const { remote, flying, card } = this;
    if (!remote || !flying || !card) return Promise.reject(new Gone('there is no card'));
    return remote.print(flying.document, without(this.today, this.card_is_todays ? unchanged(card) : []), this.setup.winder_ratio, this.meter, paper);
  }

  /** What is wrong with a reading of today: as the program said it, or without one by the ranges of the log. */
  problems_of(field: AirField): Problem[] {
    if (this.remote) return this.problems.filter((problem) => problem.field === `today.${field}`);
    const value = this.air[field], range = air_ranges[field];
    if (value === undefined || (value >= range[0] && value <= range[1])) return [];
    const scale = this.air_scale(field);
    return [{ file: '', line: null, field, value: '', message: 'the value is out of range', allowed: range.map((bound) => with_unit(bound, scale)).join(' to '), remedy: 'check the number and its unit' }];
  }

  /** The flight in hand is wound as the card says. */
  hooked_up(winding: Counted): void {
    const { card, flying } = this;
    if (card) this.change(hooked(this.draft, card.answer, winding, flying?.sure ?? true));
  }

  /** All that a page saved as a file needs to go on without the program. */
  taken_along(): TakenAlong {
    const { profile, torque_unit, winder_ratio } = this.setup;
    const flights = book.entries.filter(({ state }) => state === 'kept').slice(0, 40).map(({ flight, base }) => ({ flight, revision: base ?? 0 }));
    return { made_at: new Date().toISOString(), profile, torque_unit, winder_ratio, card: this.card, air: this.air, names: this.names, flights };
  }

  #next(): Draft {
    const next = next_after(book.last, new_id(Date.now()), this.#air_of_today());
    // One and the same air for the card and for the flight: as entered, else as of the last flight of the day.
    const values = { ...this.air }, carried = { ...next.carried };
    for (const field of Object.keys(column_of_air) as AirField[]) {
      values[field] ??= carried[column_of_air[field]];
      if (values[field] === undefined) delete values[field];
      else carried[column_of_air[field]] = values[field];
    }
    if (Object.keys(values).length > Object.keys(this.air).length) this.#keep_air({ ...this.#days_air, values });
    return { ...next, carried };
  }

  #show(draft: Draft): void {
    this.draft = draft;
    keep(keys.draft, draft);
  }
}

/** The fields whose reading the card took for that of the sheet. */
function unchanged({ answer, today }: KeptCard): (keyof Today)[] {
  const changed = answer.changes.map(({ what }) => what as string);
  return (Object.keys(today) as (keyof Today)[]).filter((field) => !changed.includes(field));
}

function newer(a: KeptCard | null, b: KeptCard | null): KeptCard | null {
  if (!a || !b) return a ?? b;
  return a.asked_ms >= b.asked_ms ? a : b;
}

export const hall = new Hall();

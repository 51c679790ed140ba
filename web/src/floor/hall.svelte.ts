// What the floor has in hand: the units and the air of today, the flight being logged with its undo, the last
// winding card. All of it outlasts a reload.
import type { DesignDocument, Problem, Profile } from '../api/types';
import { Gone, Refused } from '../api/client';
import { book } from './book.svelte';
import { after_break, break_of, with_motor_of, next_after, of_day, row_of, taken_back, duration_of, blank, type Draft, type OfCard } from './draft';
import { keep_draft, kept_draft } from './draft_shelf';
import { day_of, is_break, local_time, new_id, type Column, type LoggedFlight } from './flight';
import { write } from '../lib/jobpath';
import { named_by } from './contender';
import { switched, type Switched } from './order';
import { PageCount } from './page_count';
import { kept_row, questions_of } from './questions';
import type { Meter, Names, Remote, Today } from './remote';
import { at_rest, landed, launched, phase, topped } from './stopwatch';
import { read as read_number, scale_of, torque_units, with_unit, type Measure, type Scale, type TorqueUnit } from './units';
import { answers, choice_of, counted, design_of, mark_of, meter_of, flown_by, hooked, motor_of_card, only_rounded, same_name, without, type Choices, type Counted, type Flyable, type KeptCard, type Question } from './wind';
import { setup_key } from './winder';

/** The air and the roof of one day; `left`: not asked for on that day. */
type DaysAir = { day: string; values: Partial<Record<AirField, number>>; left?: boolean };
export const air_fields = ['temperature', 'humidity', 'pressure', 'roof'] as const;
export type AirField = (typeof air_fields)[number];

/** The torque unit follows the others until one is chosen. */
type Setup = { profile: Profile; torque_unit: TorqueUnit; unit_chosen: boolean; winder_ratio: number; meter_id: string | null; /** As last known: the program may be away. */ meter: Meter | null; /** Which design a propeller flies with, as chosen on Wind. */ choices: Choices };
/** What a page saved as a file takes along from the workshop. */
export type TakenAlong = {
  made_at: string;
  profile: Profile;
  torque_unit: TorqueUnit;
  winder_ratio: number;
  meter: Meter | null;
  card: KeptCard | null;
  air: Partial<Record<AirField, number>>;
  names: Names;
  flights: { flight: LoggedFlight; revision: number }[];
  /** Id of the workshop; pages saved by an older program have none. */
  workshop?: string | null;
};

const keys = { setup: setup_key, air: 'propwright-floor-air', card: 'propwright-floor-card', last: 'propwright-floor-last' };
const usual_torque: Record<Profile, TorqueUnit> = { metric: 'mN·m', inch: 'in-oz' };
const undo_depth = 50;
/** One button launches, lands and keeps, ms: a finger that comes down twice does not do two of them. */
const twice_ms = 600;
/** For so long a break that was kept can be taken back. */
const hold_ms = 30000;
/** What this browser keeps, and without a flight in hand also what the workshop has, is waited for so long before the page is shown. */
const shelf_ms = { in_hand: 300, none: 1500 };

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

/** By id: the flight kept last, and the one flown last; an old flight put right is the first, not the second. */
type Lasts = { kept: string | null; flown: string | null };

type Act = 'launch' | 'land' | 'keep' | 'break';

class Hall {
  setup = $state.raw<Setup>({ profile: 'metric', torque_unit: 'mN·m', unit_chosen: false, winder_ratio: 1, meter_id: null, meter: null, choices: {} });
  /** SI, of one day. */
  #days_air = $state.raw<DaysAir>({ day: day_now(), values: {} });
  air = $derived(this.#days_air.values);
  draft = $state.raw<Draft>(blank('f'));
  card = $state.raw<KeptCard | null>(null);
  /** Of the workshop; null until they are known. */
  meters = $state.raw<Meter[] | null>(null);
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
  /** The flight in hand is known: the page can be used. */
  ready = $state(false);
  /** The browser keeps the pages: they load again without the program. */
  pages_kept = $state(false);
  #past = $state.raw<Draft[]>([]);
  /** What Undo took back; gone with the next change. */
  #undone = $state.raw<Draft[]>([]);
  /** Laid aside while another flight is put right. */
  parked = $state.raw<Draft | null>(null);
  #lasts = $state.raw<Lasts>({ kept: null, flown: null });
  #count = new PageCount();
  /** The flight before its motor broke. */
  #unbroken: Draft | null = null;
  #asks = 0;
  #started = false;
  #keeping = false;
  #acted = { act: '', at_ms: 0 };

  phase = $derived(phase(this.draft.watch));
  duration_s = $derived(duration_of(this.draft, this.now_ms));
  row = $derived(row_of(this.draft, this.now_ms));
  questions = $derived(questions_of(this.draft, this.row));
  /** A flight that is in the log already. */
  correcting = $derived(this.draft.taken !== null || this.draft.base !== null);
  /** "2026-11-21": today, as of the last launch or look at the page. */
  day = $derived(this.#days_air.day);
  /** Nobody told the air of today yet, nor said that it stays unknown. */
  air_wanted = $derived(!this.#days_air.left && Object.keys(this.air).length === 0);
  /** A flight in the air, not kept yet or put right: it has its own winding. */
  in_hand = $derived(this.phase !== 'ready' || this.duration_s !== null || this.correcting);
  changed = $derived(this.#past.length > 0);
  /** The flight that the next one is set up after: the one flown last here today, else the latest of the log; a date ahead of the clock is no latest. */
  last = $derived.by<LoggedFlight | null>(() => {
    const flown = this.#lasts.flown === null ? undefined : book.entry(this.#lasts.flown)?.flight;
    if (flown && day_of(flown) === this.day) return flown;
    return book.entries.find(({ flight }) => !is_break(flight) && day_of(flight) <= this.day)?.flight ?? null;
  });
  /** What Undo brings back into the hand. */
  #kept_last = $derived<LoggedFlight | null>((this.#lasts.kept === null ? undefined : book.entry(this.#lasts.kept)?.flight) ?? this.last);
  can_undo = $derived(this.#past.length > 0 || (this.phase === 'ready' && !this.correcting && this.#kept_last !== null));
  /** Turns of the motor that a winding comes to: of the card, else of the flight before. Null: not known. */
  usual_turns = $derived<number | null>((this.card ? counted(this.card.answer)?.stop.turns : undefined) ?? this.last?.turns_wound ?? null);
  can_redo = $derived(this.#undone.length > 0);
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
  /** The motor on the winder is a record of the workshop; while a flight is in hand nobody knows which it is. */
  motor_known = $derived(!this.in_hand && this.names.motors.some((name) => same_name(name, this.draft.carried.motor ?? '')));
  /** The motor on the winder as the card has it, where the card is for it. */
  of_card = $derived<OfCard>(motor_of_card(this.card, this.flying, this.motor_known));
  /** All that the card has to be the answer to. */
  question = $derived<Question>({ today: this.today, winder_ratio: this.setup.winder_ratio, meter: meter_of(this.setup.meter), key: this.flying?.key ?? null });
  card_is_todays = $derived(this.card !== null && answers(this.card, this.question));

  async start(remote: Remote | null, taken: TakenAlong | null, units: Profile | null): Promise<void> {
    this.remote = remote;
    if (this.#started) {
      await book.start(remote);
      return;
    }
    this.#started = true;
    const setup = kept(keys.setup) as Partial<Setup> | null;
    const profile = units ?? setup?.profile ?? 'metric';
    // Spelt "in·oz" by pages before this one.
    const chosen = setup?.unit_chosen ? torque_units.find((unit) => unit === setup.torque_unit?.replace('in·oz', 'in-oz')) : undefined;
    this.setup = {
      profile: taken?.profile ?? profile,
      torque_unit: chosen ?? taken?.torque_unit ?? usual_torque[profile],
      unit_chosen: chosen !== undefined || taken !== null,
      winder_ratio: setup?.winder_ratio ?? taken?.winder_ratio ?? 1,
      // A file taken to the hall has the meter that its card was made with, and no list of others.
      meter_id: (taken ? taken.meter?.id : setup?.meter_id) ?? null,
      meter: (taken ? taken.meter : setup?.meter) ?? null,
      choices: setup?.choices ?? {},
    };
    // Only one that the workshop has is sent: another file may be open there by now.
    book.meter_id = () => (this.meters && this.setup.meter ? this.setup.meter.id : null);
    const air = kept(keys.air) as Partial<DaysAir> | null;
    if (air?.values && air.day === day_now()) this.#days_air = { day: air.day, values: air.values, left: air.left === true };
    else if (taken && local_time(Date.parse(taken.made_at)).slice(0, 10) === day_now()) this.#days_air = { day: day_now(), values: taken.air };
    const card = kept(keys.card) as KeptCard | null;
    this.card = newer(card, taken?.card ?? null);
    if (taken) this.names = taken.names;
    this.#lasts = { ...this.#lasts, ...(kept(keys.last) as Partial<Lasts> | null) };
    this.parked = kept_draft('parked');
    const draft = kept_draft();
    if (draft) this.draft = draft;
    const shelf = book.start(remote, taken?.workshop ?? null).then(() => (taken ? book.lay_in(taken.flights) : undefined));
    const known = draft ? shelf : Promise.all([shelf, book.first_look()]);
    await Promise.race([known, new Promise((resolve) => setTimeout(resolve, draft ? shelf_ms.in_hand : shelf_ms.none))]);
    if (!draft) this.#begin_after(known);
    this.ready = true;
    this.#new_day();
    document.addEventListener('visibilitychange', () => {
      this.#count.hide();
      this.#new_day();
    });
    setInterval(() => {
      if (this.phase === 'flying' || (this.parked && phase(this.parked.watch) === 'flying')) this.now_ms = Date.now();
    }, 100);
    this.read_names();
  }

  /** The first flight of this browser, set up as the last one; anew where that one becomes known later, before a touch of the hand. */
  #begin_after(known: Promise<unknown>): void {
    const first = this.#next();
    this.draft = first;
    void known.then(() => {
      // Not kept until it is touched: what comes in before a reload sets the first flight up as well.
      if (this.draft === first) this.draft = this.#next();
    });
  }

  /** What the workshop has to offer for a flight: names, and the torque meters. */
  read_names(): void {
    this.remote?.names().then((names) => (this.names = names), () => undefined);
    this.remote?.meters().then((meters) => this.#read_meters(meters), () => undefined);
  }

  scale(measure: Measure): Scale {
    return scale_of(measure, this.setup.profile, this.setup.torque_unit);
  }

  set_up(change: Partial<Setup>): void {
    const torque_unit = change.profile && !this.setup.unit_chosen ? usual_torque[change.profile] : this.setup.torque_unit;
    const setup = { ...this.setup, torque_unit, ...change };
    this.setup = { ...setup, meter: (this.meters ?? [setup.meter]).find((meter) => meter?.id === setup.meter_id) ?? null };
    keep(keys.setup, this.setup);
  }

  /** The meter of the day as it is calibrated now; null where the workshop that is open has none of that id. */
  #read_meters(meters: Meter[]): void {
    this.meters = meters;
    const { meter, meter_id } = this.setup;
    if (JSON.stringify(meters.find(({ id }) => id === meter_id) ?? null) !== JSON.stringify(meter)) this.set_up({});
  }

  /** The air of today is the air of the flight in hand, and of the card; a flight put right has its own. */
  breathe(field: AirField, value: number | null, of: 'today' | 'flight' = 'today'): void {
    this.#new_day();
    const lasts = this.draft.id === this.last?.id && day_of(this.last) === this.#days_air.day;
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
    for (const field of air_fields) {
      const value = this.air[field], scale = this.air_scale(field);
      if (value === undefined) continue;
      // In full: what is rounded for the eye is no other value than the sheet's.
      today[field] = `${Number((value * scale.factor + scale.offset).toPrecision(10))} ${unit_words[scale.unit] ?? scale.unit}`;
    }
    return today;
  }

  // --- the flight in hand --------------------------------------------------------------------------

  /** What is entered anew is no longer what was not understood; `fields`: entered besides those of `change`. */
  change(change: Partial<Draft>, fields: readonly string[] = []): void {
    this.#past = [...this.#past.slice(-undo_depth + 1), this.draft];
    this.#undone = [];
    const unread = { ...this.draft.unread, ...change.unread };
    const entered = Object.entries(change.carried ?? {}).filter(([column, value]) => value !== this.draft.carried[column as Column]).map(([column]) => column);
    for (const field of [...Object.keys(change), ...entered, ...fields]) delete unread[field];
    this.#show({ ...this.draft, ...change, unread, touched: true });
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
    const before = this.draft.carried[what] ?? '';
    if (before === name) return;
    const others = book.entries.flatMap(({ flight }) => (flight.id === this.draft.id ? [] : [flight]));
    const named = named_by([this.draft.carried, ...others]);
    if (what === 'propeller' && named(this.draft.carried) === name) return;
    const columns = switched(others, what, name, before === '', named);
    // How often it had been wound by then is not known of a flight put right.
    this.carry(this.correcting && what === 'motor' ? { ...columns, wind_number: undefined } : columns);
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
    this.#count.begin(this.now_ms, performance.now(), document.visibilityState === 'hidden');
    this.change({ watch: launched(this.now_ms), duration_s: null });
  }

  top(): void {
    this.change({ watch: topped(this.draft.watch, Date.now()) });
  }

  land(): void {
    if (!this.#act('land', 'launch')) return;
    this.now_ms = Date.now();
    const counted_s = this.#count.differing_s(this.draft.watch.started_ms, this.now_ms, performance.now());
    this.change({ watch: landed(this.draft.watch, this.now_ms), ...(counted_s === null ? {} : { counted_s }) });
  }

  /** The last change of the flight in hand; with none left, the flight kept last comes back into the hand. */
  undo(): void {
    const before = this.#past.at(-1);
    if (before) {
      const in_air = this.phase === 'flying';
      this.#past = this.#past.slice(0, -1);
      this.#undone = [...this.#undone, this.draft];
      this.#show(before);
      this.now_ms = Date.now();
      if (in_air && this.phase === 'ready') this.told = 'The launch is taken back. If the model is in the air, press Redo: the watch goes on from the launch.';
      return;
    }
    if (this.#kept_last) this.take_back(this.#kept_last.id);
  }

  /** What Undo took back last. */
  redo(): void {
    const after = this.#undone.at(-1);
    if (!after) return;
    this.#undone = this.#undone.slice(0, -1);
    this.#past = [...this.#past, this.draft];
    this.told = '';
    this.#show(after);
    this.now_ms = Date.now();
  }

  take_back(id: string): void {
    const entry = book.entry(id);
    if (!entry || id === this.draft.id) return;
    if (this.correcting && this.changed) {
      this.told = 'Another flight is being put right: keep it, or leave it as it was, before the next.';
      return;
    }
    if (!this.correcting) this.#park(this.draft);
    this.#hold(taken_back(entry.flight, entry.base, at_rest));
    this.told = 'The flight is in hand again; what is changed is kept with the next press of Keep.';
  }

  /** Out of a correction without keeping it: the flight that was laid aside is in hand again. */
  leave_correction(): void {
    if (!this.correcting) return;
    this.#hold(this.#back());
    this.told = '';
    this.now_ms = Date.now();
    this.#new_day();
  }

  /** What was laid aside, with all that was entered; what nobody touched is laid ready anew. */
  #back(): Draft {
    const parked = this.parked;
    this.#park(null);
    return parked && (parked.touched || phase(parked.watch) !== 'ready') ? parked : this.#next();
  }

  #park(draft: Draft | null): void {
    this.parked = draft;
    keep_draft(draft, 'parked');
  }

  /** Another flight in the hand: nothing of the one before can be undone in it. */
  #hold(draft: Draft): void {
    this.#past = [];
    this.#undone = [];
    this.#show(draft);
  }

  /** Keeps the flight; what is questioned is left unknown. Then the next one is in hand. Null: a second press. */
  async keep(): Promise<LoggedFlight | null> {
    if (this.#keeping || !this.#act('keep', 'land')) return null;
    this.#keeping = true;
    try {
      const began = performance.now();
      const { base, taken, watch } = this.draft, { correcting } = this;
      const row = await book.keep(kept_row(this.draft, row_of(this.draft, Date.now())), { base, taken, launched: watch.started_ms !== null });
      performance.measure('floor-kept', { start: began });
      this.#lasts = { kept: row.id, flown: correcting ? this.#lasts.flown : row.id };
      keep(keys.last, this.#lasts);
      this.#hold(correcting ? this.#back() : this.#next());
      this.now_ms = Date.now();
      this.#new_day();
      return row;
    } finally {
      this.#keeping = false;
    }
  }

  /** A motor that broke while winding: a line of the log without a flight. The id of that line; null: a second press. */
  async broke(turns: number | null): Promise<string | null> {
    if (!this.#act('break', 'break')) return null;
    // While a flight is in hand the motor that it names is its own, not the one on the winder.
    const { draft, in_hand } = this;
    const row = break_of(in_hand ? after_break(draft) : draft, turns, new_id(Date.now()), Date.now(), this.of_card);
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
    const { remote, flying, question, setup: { meter } } = this;
    const { today, winder_ratio } = question;
    this.asking = remote !== null && flying !== null;
    if (!remote || !flying) return;
    const ask = ++this.#asks;
    const { document, key, design: { id, title, learned } } = flying;
    const still = () => ask === this.#asks && JSON.stringify(this.question) === JSON.stringify(question);
    try {
      let answer = await remote.wind(document, today, winder_ratio, meter);
      const same = only_rounded(answer);
      if (same.length > 0) answer = await remote.wind(document, without(today, same), winder_ratio, meter);
      if (!still()) return;
      this.card = { answer, today, winder_ratio, meter: question.meter, asked_ms: Date.now(), of: { id, title, key, learned }, flies: this.#flies_with(id) };
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
    return remote.print(flying.document, without(this.today, this.card_is_todays ? unchanged(card) : []), this.setup.winder_ratio, this.setup.meter, paper);
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
    const { profile, torque_unit, winder_ratio, meter } = this.setup;
    const flights = book.entries.filter(({ state }) => state === 'kept').slice(0, 200).map(({ flight, base }) => ({ flight, revision: base ?? 0 }));
    return { made_at: new Date().toISOString(), profile, torque_unit, winder_ratio, meter, card: this.card, air: this.air, names: this.names, flights, workshop: book.workshop };
  }

  #next(): Draft {
    const next = next_after(this.last, new_id(Date.now()), this.#air_of_today());
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
    keep_draft(draft);
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

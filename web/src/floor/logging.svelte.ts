// The flight being logged: its watch, its changes with their undo, keeping it, and putting an earlier one right. Outlasts a
// reload.
import { air, column_of_air, type Air, type AirField } from './air.svelte';
import { book } from './book.svelte';
import { blank, duration_of, flown_before, last_flown, next_after, of_day, row_of, taken_back, type Draft } from './draft';
import { keep_draft, kept_draft } from './draft_shelf';
import { day_of, new_id, type Column, type LoggedFlight } from './flight';
import { named_by } from './contender';
import { switched, type Switched } from './order';
import { PageCount } from './page_count';
import { Presses } from './presses';
import { kept_row, questions_of } from './questions';
import { at_rest, landed, launched, phase, topped } from './stopwatch';
import { store, stored } from './storage';
import { Undo } from './undo.svelte';

const last_key = 'propwright-floor-last';
const undo_depth = 50;

/** By id: the flight kept last, and the one flown last; an old flight put right is the first, not the second. */
type Lasts = { kept: string | null; flown: string | null };

class Logging {
  draft = $state.raw<Draft>(blank('f'));
  /** Milliseconds since 1970; goes on while a flight is in the air. */
  now_ms = $state(Date.now());
  told = $state('');
  #undo = new Undo<Draft>(undo_depth);
  /** Laid aside while another flight is put right. */
  parked = $state.raw<Draft | null>(null);
  #lasts = $state.raw<Lasts>({ kept: null, flown: null });
  #count = new PageCount();
  #presses = new Presses();
  #keeping = false;

  phase = $derived(phase(this.draft.watch));
  duration_s = $derived(duration_of(this.draft, this.now_ms));
  row = $derived(row_of(this.draft, this.now_ms));
  questions = $derived(questions_of(this.draft, this.row));
  /** A flight that is in the log already. */
  correcting = $derived(this.draft.taken !== null || this.draft.base !== null);
  /** A flight in the air, not kept yet or put right: it has its own winding. */
  in_hand = $derived(this.phase !== 'ready' || this.duration_s !== null || this.correcting);
  changed = $derived(this.#undo.can_undo);
  /** The flight that the next one is set up after. */
  last = $derived(last_flown(book.entries, this.#lasts.flown === null ? undefined : book.entry(this.#lasts.flown), air.day));
  /** The flight before the one in hand: of one put right, not what was flown since. */
  before = $derived(this.draft.taken ? flown_before(book.entries, this.draft.taken) : this.last);
  /** What Undo brings back into the hand. */
  #kept_last = $derived<LoggedFlight | null>((this.#lasts.kept === null ? undefined : book.entry(this.#lasts.kept)?.flight) ?? this.last);
  can_undo = $derived(this.#undo.can_undo || (this.phase === 'ready' && !this.correcting && this.#kept_last !== null));
  can_redo = $derived(this.#undo.can_redo);

  /** What this browser kept of it; false: no flight was in hand. */
  begin(): boolean {
    this.#lasts = { ...this.#lasts, ...(stored(last_key) as Partial<Lasts> | null) };
    this.parked = kept_draft('parked');
    const draft = kept_draft();
    if (draft) this.draft = draft;
    return draft !== null;
  }

  /** Once a flight is in hand: it goes with the clock, and with the day. */
  follow(): void {
    this.new_day();
    document.addEventListener('visibilitychange', () => {
      this.#count.hide();
      this.new_day();
    });
    setInterval(() => {
      if (this.phase === 'flying' || (this.parked && phase(this.parked.watch) === 'flying')) this.now_ms = Date.now();
    }, 100);
  }

  /** The first flight of this browser, set up as the last one; anew where that one becomes known later, before a touch of the hand. */
  begin_after(known: Promise<unknown>): void {
    const first = this.#next();
    this.draft = first;
    void known.then(() => {
      // Not kept until it is touched: what comes in before a reload sets the first flight up as well.
      if (this.draft === first) this.draft = this.#next();
    });
  }

  /** Yesterday's air does not go into today's log, also where the page stood open over night. */
  new_day(): void {
    const day = air.turn();
    if (this.draft.day !== day && this.phase === 'ready' && this.duration_s === null && !this.correcting) this.#show(of_day(this.draft, day));
  }

  /** The air of today is the air of the flight in hand, and of the card; a flight put right has its own. */
  breathe(field: AirField, value: number | null, of: 'today' | 'flight' = 'today'): void {
    this.new_day();
    const lasts = this.draft.id === this.last?.id && day_of(this.last) === air.day;
    if (of === 'today' || !this.correcting || lasts) air.enter(field, value);
    if (of === 'flight' || !this.correcting) this.carry({ [column_of_air[field]]: value ?? undefined });
  }

  /** The air of today stays unknown. */
  leave_air(): void {
    this.new_day();
    air.leave();
  }

  /** What is entered anew is no longer what was not understood; `fields`: entered besides those of `change`. */
  change(change: Partial<Draft>, fields: readonly string[] = []): void {
    this.#undo.remember(this.draft);
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

  launch(): void {
    if (!this.#presses.counts('launch', 'keep', Date.now())) return;
    this.new_day();
    this.now_ms = Date.now();
    this.told = '';
    this.#count.begin(this.now_ms, performance.now(), document.visibilityState === 'hidden');
    this.change({ watch: launched(this.now_ms), duration_s: null });
  }

  top(): void {
    this.change({ watch: topped(this.draft.watch, Date.now()) });
  }

  land(): void {
    if (!this.#presses.counts('land', 'launch', Date.now())) return;
    this.now_ms = Date.now();
    const counted_s = this.#count.differing_s(this.draft.watch.started_ms, this.now_ms, performance.now());
    this.change({ watch: landed(this.draft.watch, this.now_ms), ...(counted_s === null ? {} : { counted_s }) });
  }

  /** The last change of the flight in hand; with none left, the flight kept last comes back into the hand. */
  undo(): void {
    const in_air = this.phase === 'flying', before = this.#undo.undo(this.draft);
    if (before) {
      this.#show(before);
      this.now_ms = Date.now();
      if (in_air && this.phase === 'ready') this.told = 'The launch is taken back. If the model is in the air, press Redo: the watch goes on from the launch.';
      return;
    }
    if (this.#kept_last) this.take_back(this.#kept_last.id);
  }

  /** What Undo took back last. */
  redo(): void {
    const after = this.#undo.redo(this.draft);
    if (!after) return;
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
    this.new_day();
  }

  /** Keeps the flight; what is questioned is left unknown. Then the next one is in hand. Null: a second press. */
  async keep(): Promise<LoggedFlight | null> {
    if (this.#keeping || !this.#presses.counts('keep', 'land', Date.now())) return null;
    this.#keeping = true;
    try {
      const began = performance.now();
      const { base, taken, watch } = this.draft, { correcting } = this;
      const row = await book.keep(kept_row(this.draft, row_of(this.draft, Date.now())), { base, taken, launched: watch.started_ms !== null });
      performance.measure('floor-kept', { start: began });
      this.#lasts = { kept: row.id, flown: correcting ? this.#lasts.flown : row.id };
      store(last_key, this.#lasts);
      this.#hold(correcting ? this.#back() : this.#next());
      this.now_ms = Date.now();
      this.new_day();
      return row;
    } finally {
      this.#keeping = false;
    }
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
    this.#undo.clear();
    this.#show(draft);
  }

  #next(): Draft {
    const next = next_after(this.last, new_id(Date.now()), air.turn());
    // One and the same air for the card and for the flight: as entered, else as of the last flight of the day.
    const last: Air = {}, carried = { ...next.carried };
    for (const [field, column] of Object.entries(column_of_air) as [AirField, (typeof column_of_air)[AirField]][]) {
      const value = air.values[field] ?? carried[column];
      if (value !== undefined) carried[column] = last[field] = value;
    }
    air.add(last);
    return { ...next, carried };
  }

  #show(draft: Draft): void {
    this.draft = draft;
    keep_draft(draft);
  }
}

export const logging = new Logging();

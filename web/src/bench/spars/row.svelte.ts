// The row under the hand: what is typed, what it would mean, and which spar comes next.
import { api } from '../../api/client';
import type { SparProblem, SparQuestion, Spars, SparText } from '../../api/types';
import { Latest } from '../../lib/latest';
import { design } from '../../store/design.svelte';
import { remember } from '../../store/last_values';
import { fine_unit, next_name, two_sizes, with_unit } from '../texts';
import { advice, request_of } from './advice.svelte';
import { book } from './book.svelte';
import { empty_texts, entered, field_of, is_untouched, texts_of, type EntryMode, type EntryName } from './entry';
import { size_number } from './figures';
import { keep_local, local_batch } from './local';

/** How long the hand rests before what is typed is looked at, ms. */
const rest_ms = 300;

type Said = { problems: SparProblem[]; questions: SparQuestion[] };
const nothing: Said = { problems: [], questions: [] };

class EntryRow {
  texts = $state(empty_texts('1'));
  mode = $state<EntryMode>('new');
  /** Something was typed into the row since it was filled. */
  touched = $state(false);
  /** What the program says of the row as typed. */
  said = $state.raw<Said>(nothing);
  /** The builder said which, against the advice or with it. */
  #mode_chosen = false;
  /** The questions the builder has seen and leaves unanswered. */
  #seen = '';

  /** The spar of the batch with the typed name. */
  row = $derived(book.find(this.texts.id));
  spar = $derived(advice.spar_of(this.row?.spar.id ?? null));

  #rest: ReturnType<typeof setTimeout> | undefined;
  #latest = new Latest<{ spar: SparText; named: string }, Spars>(
    async ({ spar }) => (await api.spars(request_of([spar])!)).body,
    ({ problems, questions }, { named }) => {
      if (named === this.#typed()) this.said = { problems, questions };
    },
    // The program is away: what is typed is looked at when the batch is.
    () => (this.said = nothing),
  );

  #typed(): string {
    return JSON.stringify([this.texts, this.mode]);
  }

  problems_of(name: EntryName): SparProblem[] {
    return this.said.problems.filter(({ field }) => field_of(field) === name);
  }

  questions_of(name: EntryName): SparQuestion[] {
    return this.said.questions.filter(({ field }) => field_of(field) === name);
  }

  /** What has no field in the row. */
  others = $derived(this.said.problems.filter(({ field }) => field_of(field) === null));

  type(name: EntryName, text: string): void {
    this.texts = { ...this.texts, [name]: text };
    if (name === 'id') this.#settle_mode();
    else this.touched = true;
    this.#keep();
    clearTimeout(this.#rest);
    this.#rest = setTimeout(() => this.look(), rest_ms);
  }

  choose_mode(mode: EntryMode): void {
    this.mode = mode;
    this.#mode_chosen = true;
    this.touched = false;
    const last = this.row?.spar.states?.at(-1);
    if (mode === 'correct' && this.row && last) this.texts = texts_of(this.row.spar.id, last, design.profile);
    else this.texts = this.#fresh(this.texts.id);
    this.#keep();
    this.look();
  }

  /** A spar of the batch is sanded, read again or put right, whichever the advice asks for. */
  #settle_mode(): void {
    this.#mode_chosen = false;
    const spar = this.spar;
    const row = this.row;
    if (!row) this.mode = 'new';
    else if (!row.spar.states?.length) this.mode = 'correct';
    else if (spar?.expect) this.mode = 'round';
    else this.mode = advice.pair_of(row.spar.id)?.verdict === 'cannot_tell' ? 'again' : 'correct';
    if (!this.touched) this.texts = this.mode === 'correct' && row ? texts_of(row.spar.id, row.spar.states?.at(-1) ?? {}, design.profile) : this.#fresh(this.texts.id);
  }

  /** Nothing typed; of a round to come, what was advised to come off. */
  #fresh(id: string): typeof this.texts {
    const texts = empty_texts(id);
    const expect = this.mode === 'round' ? this.spar?.expect : null;
    if (expect) {
      if (expect.off_each_face_0_m > 0) texts.off_0 = size_number(expect.off_each_face_0_m, design.profile);
      if (expect.off_each_face_90_m > 0) texts.off_90 = size_number(expect.off_each_face_90_m, design.profile);
    }
    return texts;
  }

  /** The spar the row would make. */
  #made(): SparText {
    return entered(this.row?.spar ?? null, this.texts, {
      mode: this.mode, profile: design.profile, batch: book.open?.table ?? {}, rig: book.rig ? { name: book.rig.name, ...book.rig.table } : null,
      at: new Date().toISOString(), sanded_from: this.spar?.expect ? `${(this.spar.expect.sanded_from_m * 1000).toFixed(1)} mm` : undefined,
    });
  }

  look(): void {
    clearTimeout(this.#rest);
    if (!this.texts.id.trim() || !this.touched || !request_of([])) {
      this.said = nothing;
      return;
    }
    this.#latest.submit({ spar: this.#made(), named: this.#typed() });
  }

  /**
   * Takes the row. Null when it was taken; else the field that stops it. A question stops it once: taken the
   * second time, it stands as typed.
   */
  async take(): Promise<EntryName | null> {
    if (!this.texts.id.trim()) return 'id';
    if (!this.touched || is_untouched(this.texts)) return 'mass';
    const request = request_of([this.#made()]);
    if (request) {
      try {
        const { problems, questions } = (await api.spars(request)).body;
        this.said = { problems, questions };
      } catch {
        this.said = nothing;
      }
      const [problem] = this.said.problems;
      if (problem) return field_of(problem.field) ?? 'mass';
      const asked = JSON.stringify([this.texts.id, this.said.questions]);
      const [question] = this.said.questions;
      if (question && asked !== this.#seen) {
        this.#seen = asked;
        return field_of(question.field) ?? 'mass';
      }
    }
    this.#put();
    return null;
  }

  asked_again = $derived(this.said.questions.length > 0);

  #put(): void {
    const unit = fine_unit(design.profile);
    for (const name of ['root', 'middle', 'tip'] as const) {
      const { width, depth } = two_sizes(this.texts[name], unit);
      if (width) remember(`bench.spar.${name}`, depth ? `${width} x ${depth}` : width);
    }
    if (this.texts.mass.trim()) remember('bench.spar.mass', with_unit(this.texts.mass, 'mg'));
    const spar = this.#made();
    const worked = this.mode === 'round' || this.mode === 'again';
    book.put(this.row, spar);
    // A spar being worked stays in hand until it is matched; else the next one is new.
    if (worked) advice.choose(spar.id);
    this.go_to(worked ? spar.id : this.next_new());
  }

  next_new(): string {
    const ids = book.rows.map(({ spar }) => spar.id);
    let id = ids.includes(this.texts.id) ? next_name(this.texts.id) : next_name(ids.at(-1) ?? '');
    while (ids.includes(id)) id = next_name(id);
    return id;
  }

  /** The row is for this spar now, with nothing typed. */
  go_to(id: string): void {
    this.said = nothing;
    this.touched = false;
    this.texts = empty_texts(id);
    this.#settle_mode();
    this.#keep();
  }

  /** The answer came: what the row proposes follows it, what was typed stays. */
  follow_advice(): void {
    if (this.touched || this.#mode_chosen) return;
    const now = advice.answer?.now;
    if (this.#opened && advice.answer) {
      this.#opened = false;
      // Who was entering one spar after another goes on so; else the row is for what is to be done next.
      const entering = book.undo.at(-1)?.before === null;
      if (!entering && now?.id && (now.what === 'sand' || now.what === 'read' || now.what === 'measure')) this.texts = empty_texts(now.id);
    }
    this.#settle_mode();
  }

  /** Nothing was done in the batch since it was opened. */
  #opened = false;

  /** As it was before the page was loaded again; else the next thing there is to do. */
  restore(): void {
    this.#opened = true;
    const kept = book.open ? local_batch(book.open.id).typed : null;
    if (kept?.touched) {
      this.texts = { ...empty_texts(), ...kept.texts };
      this.mode = kept.mode;
      this.touched = true;
      this.look();
    } else {
      this.go_to(book.rows.length === 0 ? '1' : this.next_new());
    }
  }

  #keep(): void {
    if (book.open) keep_local(book.open.id, { typed: { texts: this.texts, mode: this.mode, touched: this.touched } });
  }
}

export const row = new EntryRow();

// The form of the design under the hand: asked anew at every change of it or of what is wished.
import { api, Gone, Refused, said } from '../api/client';
import type { FormAnswer, FormKind, FormWishes } from '../api/form';
import type { DesignDocument, Problem } from '../api/types';
import { Latest } from '../lib/latest';
import { design } from '../store/design.svelte';

/** How long the hand rests before the form is worked out anew, ms: a drawing is read, not dragged. */
const rest_ms = 150;
const retry_ms = 1000;
const wishes_key = 'propwright-form-wishes';

type Asked = { document: DesignDocument; wishes: FormWishes };

class FormStore {
  /** The last good answer, and what it answers. */
  answer = $state.raw<FormAnswer | null>(null);
  /** Problems of the present design and wishes; empty when there is a form. */
  problems = $state.raw<Problem[]>([]);
  /** What is drawn belongs to an earlier state. */
  stale = $state(false);
  busy = $state(false);
  wishes = $state.raw<FormWishes>(kept_wishes());
  /** Radius of the section under the hand, m; null until one is chosen: the gauge radius. */
  section_m = $state<number | null>(null);

  #timer: ReturnType<typeof setTimeout> | undefined;
  #retry: ReturnType<typeof setTimeout> | undefined;
  #open = false;
  #latest = new Latest<Asked, FormAnswer>(
    async ({ document, wishes }) => (await api.form({ ...document, wishes })).body,
    (answer, asked, newest) => this.#arrived(answer, asked, newest),
    (error, asked) => this.#failed(error, asked),
  );

  /** The place is open: follows the design until the function it gives is called. */
  follow(): () => void {
    this.#open = true;
    this.#ask();
    const forget = design.on_change(() => this.#ask_soon());
    return () => {
      this.#open = false;
      forget();
      clearTimeout(this.#timer);
      clearTimeout(this.#retry);
    };
  }

  wish(change: Partial<FormWishes>): void {
    const next: FormWishes = { ...this.wishes, ...change };
    for (const name of Object.keys(next) as (keyof FormWishes)[]) if (!next[name]) delete next[name];
    this.wishes = next;
    try {
      sessionStorage.setItem(wishes_key, JSON.stringify(next));
    } catch {
      // Storage off: the wishes then live as long as the page.
    }
    this.#ask();
  }

  get kind(): FormKind {
    return this.wishes.kind ?? 'ribbed';
  }

  problems_of(field: string): Problem[] {
    return this.problems.filter((problem) => problem.field === field || problem.field === `wishes.${field}`);
  }

  #ask_soon(): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#ask(), rest_ms);
  }

  #ask(): void {
    clearTimeout(this.#timer);
    clearTimeout(this.#retry);
    this.busy = true;
    this.#latest.submit({ document: design.document, wishes: this.wishes });
  }

  #arrived(answer: FormAnswer, asked: Asked, newest: boolean): void {
    this.answer = answer;
    if (!newest) return;
    this.busy = false;
    this.problems = [];
    this.stale = asked.document !== design.document || asked.wishes !== this.wishes;
  }

  #failed(error: unknown, asked: Asked): void {
    if (asked.document !== design.document || asked.wishes !== this.wishes) return;
    this.busy = false;
    this.stale = this.answer !== null;
    this.problems = form_problems(error);
    if (!(error instanceof Refused) && this.#open) this.#retry = setTimeout(() => this.#ask(), retry_ms);
  }
}

/** A failure in words; a program older than these pages answers that it knows no such address. */
export function form_problems(error: unknown): Problem[] {
  if (error instanceof Refused) {
    if (error.status !== 404 && error.status !== 405) return error.problems;
    return [said('The program that runs has no forms yet', 'Stop it, start the newer one, and load this page again')];
  }
  if (!(error instanceof Gone)) console.error(error);
  return [said('The program does not answer', 'Look whether it still runs; the page asks again by itself')];
}

function kept_wishes(): FormWishes {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(wishes_key) ?? '{}');
    return kept !== null && typeof kept === 'object' ? (kept as FormWishes) : {};
  } catch {
    return {};
  }
}

export const form = new FormStore();

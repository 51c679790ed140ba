// A question to the bench, asked anew whenever what it is made of changes. What could be answered stays
// drawn, greyed, while a table is in trouble.
import { api, Gone, Refused, said, type Answer } from '../../api/client';
import type { BenchAnswer, BenchQuestion } from '../../api/bench';
import type { Problem } from '../../api/types';
import { Latest } from '../../lib/latest';
import { same } from '../../lib/jobpath';
import { field_back, type Places } from './question';

const rest_ms = 120;
const retry_ms = 1500;

export class Ask<Asked extends object = BenchQuestion, Told extends { problems: Problem[] } = BenchAnswer> {
  /** The last good answer to each table that is asked. */
  answer = $state.raw<Partial<Told>>({});
  problems = $state.raw<Problem[]>([]);
  /** Tables whose answer belongs to an earlier state. */
  stale = $state.raw<ReadonlySet<string>>(new Set());
  gone = $state(false);

  /** What the answer was given to. */
  answered = $state.raw<Asked | null>(null);

  #question: Asked | null = null;
  #places: Places = new Map();
  #timer: ReturnType<typeof setTimeout> | undefined;
  #latest: Latest<Asked, Told>;

  constructor(send: (question: Asked) => Promise<Answer<Told>> = api.bench as unknown as (question: Asked) => Promise<Answer<Told>>) {
    this.#latest = new Latest<Asked, Told>(
      async (question) => (await send(question)).body,
      (answer, question) => this.#arrived(answer, question),
      (error, question) => this.#failed(error, question),
    );
  }

  /** Null: nothing to ask. `places` tells which rows of lists were sent. */
  put(question: Asked | null, places: Places = new Map()): void {
    this.#places = places;
    if (same(question, this.#question)) return;
    this.#question = question;
    clearTimeout(this.#timer);
    if (question === null) {
      this.answer = {};
      this.answered = null;
      this.problems = [];
      this.stale = new Set();
      return;
    }
    this.#timer = setTimeout(() => this.#latest.submit(question), rest_ms);
  }

  stop(): void {
    clearTimeout(this.#timer);
    this.#question = null;
  }

  /** Problems of one field, "blades[1].length". */
  of(field: string): Problem[] {
    return this.problems.filter((problem) => problem.field === field);
  }

  /** Problems that none of these fields shows beside itself. */
  others(shown: (field: string) => boolean): Problem[] {
    return this.problems.filter((problem) => !shown(problem.field));
  }

  #arrived(answer: Told, question: Asked): void {
    if (question !== this.#question) return;
    const told: Record<string, unknown> = {};
    const stale = new Set<string>();
    for (const [name, table] of Object.entries(answer)) {
      if (table !== null) told[name] = table;
      else if (name in this.answer) {
        told[name] = this.answer[name as keyof Told];
        stale.add(name);
      }
    }
    this.answer = told as Partial<Told>;
    this.stale = stale;
    this.answered = question;
    this.problems = answer.problems.map((problem) => ({ ...problem, field: field_back(problem.field, this.#places) }));
    this.gone = false;
  }

  #failed(error: unknown, question: Asked): void {
    if (question !== this.#question) return;
    this.gone = error instanceof Gone;
    if (error instanceof Refused) this.problems = error.problems;
    else {
      if (!(error instanceof Gone)) console.error(error);
      this.problems = [said('The program does not answer', 'Nothing is lost here: look whether it still runs')];
      this.#timer = setTimeout(() => this.#latest.submit(question), retry_ms);
    }
  }
}

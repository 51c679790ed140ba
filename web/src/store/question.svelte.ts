// One question to the program, asked anew whenever what it is made of changes. The last answer stays drawn,
// greyed, while the present question has none.
import { Gone, Refused, said, type Answer } from '../api/client';
import type { Problem } from '../api/types';
import { same } from '../lib/jobpath';
import { Latest } from '../lib/latest';

const retry_ms = 1500;

export class Question<Asked, Told> {
  answer = $state.raw<Told | null>(null);
  problems = $state.raw<Problem[]>([]);
  /** The answer belongs to an earlier question. */
  stale = $state(false);

  #question: Asked | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #latest: Latest<Asked, Told>;

  /** `rest_ms`: how long the hand rests before it is asked. */
  constructor(send: (question: Asked) => Promise<Answer<Told>>, readonly rest_ms = 200) {
    this.#latest = new Latest<Asked, Told>(
      async (question) => (await send(question)).body,
      (answer, question) => this.#arrived(answer, question),
      (error, question) => this.#failed(error, question),
    );
  }

  /** Null: nothing to ask. */
  put(question: Asked | null): void {
    if (same(question, this.#question)) return;
    this.#question = question;
    clearTimeout(this.#timer);
    if (question === null) {
      this.answer = null;
      this.problems = [];
      this.stale = false;
      return;
    }
    this.stale = this.answer !== null;
    this.#timer = setTimeout(() => this.#latest.submit(question), this.answer === null ? 0 : this.rest_ms);
  }

  stop(): void {
    clearTimeout(this.#timer);
    this.#question = null;
  }

  #arrived(answer: Told, question: Asked): void {
    if (question !== this.#question) return;
    this.answer = answer;
    this.problems = [];
    this.stale = false;
  }

  #failed(error: unknown, question: Asked): void {
    if (question !== this.#question) return;
    if (error instanceof Refused) {
      this.problems = error.problems;
      return;
    }
    if (!(error instanceof Gone)) console.error(error);
    this.problems = [said('The program does not answer', 'Nothing is lost here: look whether it still runs')];
    this.#timer = setTimeout(() => this.#latest.submit(question), retry_ms);
  }
}

// A question to the program that may take seconds: asked anew when it changes, given up at a press. The last answer
// stays, greyed, while the present question has none.
import { Gone, Refused, said, type Answer } from '../api/client';
import type { Problem } from '../api/types';
import { same } from '../lib/jobpath';

const rest_ms = 250;
const retry_ms = 1500;
/** What is answered sooner needs no word about it. */
const quick_ms = 500;

export class Asking<Asked, Told> {
  answer = $state.raw<Told | null>(null);
  problems = $state.raw<Problem[]>([]);
  /** The answer belongs to an earlier question. */
  stale = $state(false);
  /** Under way for longer than half a second. */
  slow = $state(false);
  /** Given up by the builder. */
  stopped = $state(false);

  #question: Asked | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #slow_timer: ReturnType<typeof setTimeout> | undefined;
  #running: AbortController | null = null;

  constructor(private readonly send: (question: Asked, signal: AbortSignal) => Promise<Answer<Told>>) {}

  /** Null: nothing to ask. */
  put(question: Asked | null): void {
    if (same(question, this.#question)) return;
    this.#give_up();
    this.#question = question;
    this.stopped = false;
    if (question === null) {
      this.answer = null;
      this.problems = [];
      this.stale = false;
      return;
    }
    this.stale = this.answer !== null;
    this.#timer = setTimeout(() => void this.#run(question), this.answer === null ? 0 : rest_ms);
  }

  /** Waits no longer; what was answered before stays. */
  stop(): void {
    this.#give_up();
    this.stopped = this.#question !== null;
  }

  again(): void {
    const question = this.#question;
    this.#give_up();
    this.stopped = false;
    if (question !== null) void this.#run(question);
  }

  /** The place is left. */
  leave(): void {
    this.#give_up();
    this.#question = null;
  }

  #give_up(): void {
    clearTimeout(this.#timer);
    clearTimeout(this.#slow_timer);
    this.#running?.abort();
    this.#running = null;
    this.slow = false;
  }

  async #run(question: Asked): Promise<void> {
    const running = new AbortController();
    this.#running = running;
    this.#slow_timer = setTimeout(() => (this.slow = true), quick_ms);
    try {
      const { body } = await this.send(question, running.signal);
      if (this.#running !== running) return;
      this.answer = body;
      this.problems = [];
      this.stale = false;
    } catch (error) {
      if (this.#running !== running) return;
      this.#failed(error, question);
    }
    clearTimeout(this.#slow_timer);
    this.#running = null;
    this.slow = false;
  }

  #failed(error: unknown, question: Asked): void {
    if (error instanceof Refused) {
      this.problems = error.problems;
      return;
    }
    if (!(error instanceof Gone)) console.error(error);
    this.problems = [said('The program does not answer', 'Nothing is lost here: look whether it still runs')];
    this.#timer = setTimeout(() => void this.#run(question), retry_ms);
  }
}

// One button launches, lands and keeps: a finger that comes down twice does not do two of them.

/** Presses nearer than this are one, ms. */
const twice_ms = 600;

export type Act = 'launch' | 'land' | 'keep' | 'break';

export class Presses {
  #last: { act: Act; at_ms: number } | null = null;

  /** False for a second press of the finger that did the act `before` this one. */
  counts(act: Act, before: Act, now_ms: number): boolean {
    if (this.#last?.act === before && Math.abs(now_ms - this.#last.at_ms) < twice_ms) return false;
    this.#last = { act, at_ms: now_ms };
    return true;
  }

  forget(): void {
    this.#last = null;
  }
}

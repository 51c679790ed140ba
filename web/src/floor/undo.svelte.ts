// The states of one thing under the hand: Undo goes back through them, Redo forward again until the next change.

export class Undo<T> {
  #past = $state.raw<T[]>([]);
  /** What Undo took back; gone with the next change. */
  #undone = $state.raw<T[]>([]);
  can_undo = $derived(this.#past.length > 0);
  can_redo = $derived(this.#undone.length > 0);

  /** `depth`: so many states are kept, the latest. */
  constructor(readonly depth: number) {}

  /** Before a change: `before` is what it was. */
  remember(before: T): void {
    this.#past = [...this.#past, before].slice(-this.depth);
    this.#undone = [];
  }

  /** What it was before the last change; undefined: none is left. `now` is what Redo brings back. */
  undo(now: T): T | undefined {
    const before = this.#past.at(-1);
    if (this.#past.length === 0) return undefined;
    this.#past = this.#past.slice(0, -1);
    this.#undone = [...this.#undone, now];
    return before;
  }

  /** What Undo took back last; undefined: nothing. */
  redo(now: T): T | undefined {
    const after = this.#undone.at(-1);
    if (this.#undone.length === 0) return undefined;
    this.#undone = this.#undone.slice(0, -1);
    this.#past = [...this.#past, now];
    return after;
  }

  clear(): void {
    this.#past = [];
    this.#undone = [];
  }
}

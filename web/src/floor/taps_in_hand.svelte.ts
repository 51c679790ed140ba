// The taps of the flight in hand: they last while the builder looks at another part of the floor, lands, and comes back.
class TapsInHand {
  #of = $state('');
  #times = $state.raw<readonly number[]>([]);
  /** Those that went with the flight. */
  #kept = $state.raw<readonly number[] | null>(null);

  /** Of that flight; another one has none yet. Milliseconds of the page's own clock. */
  times = (flight: string): readonly number[] => (this.#of === flight ? this.#times : []);

  is_kept = (flight: string): boolean => this.#of === flight && this.#kept !== null && this.#kept === this.#times;

  tap(flight: string, at_ms: number): void {
    this.#times = [...this.times(flight), at_ms];
    this.#of = flight;
  }

  keep(flight: string): void {
    if (this.#of === flight) this.#kept = this.#times;
  }

  clear(): void {
    this.#times = [];
    this.#kept = null;
  }
}

export const taps_in_hand = new TapsInHand();

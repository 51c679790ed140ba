// The page's own count of a flight, beside the clock of the device: a clock that is set while the model is in the air tells
// another time, the count does not.

/** They may differ by this, s: more is a clock that was set. */
const doubt_s = 1.5;

export class PageCount {
  #of: { started_ms: number; at_ms: number; hidden: boolean } | null = null;

  /** `started_ms`: as the clock says; `at_ms`: as performance.now() does. */
  begin(started_ms: number, at_ms: number, hidden: boolean): void {
    this.#of = { started_ms, at_ms, hidden };
  }

  /** The page went out of sight: from then on it may sleep, and counts too few. */
  hide(): void {
    if (this.#of) this.#of.hidden = true;
  }

  /** Seconds counted since that start, to a tenth, where they differ from those of the clock; null where they agree, or this page did not see the start. */
  differing_s(started_ms: number | null, now_ms: number, at_ms: number): number | null {
    if (!this.#of || started_ms === null || this.#of.started_ms !== started_ms) return null;
    const counted_s = (at_ms - this.#of.at_ms) / 1000, clock_s = (now_ms - started_ms) / 1000;
    if (Math.abs(counted_s - clock_s) < doubt_s || (this.#of.hidden && counted_s < clock_s)) return null;
    return Math.round(counted_s * 10) / 10;
  }
}

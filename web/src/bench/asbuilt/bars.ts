// Bars of seconds about a line of nothing, with their intervals: places as shares of the width.
import type { PairFlaw } from '../../api/flex';

export type Bar = { from: number; to: number; low: number; high: number; gains: boolean; sure: boolean; cut_low: boolean; cut_high: boolean };
export type Bars = { zero: number; bars: (Bar | null)[]; ticks: { at: number; text: string }[] };

/** The smallest of 1, 2, 5 times a power of ten that is not under `rough`. */
function step_for(span: number): number {
  const rough = span / 5;
  const power = 10 ** Math.floor(Math.log10(rough));
  return [1, 2, 5, 10].map((lead) => lead * power).find((step) => step >= rough * 0.999) ?? 10 * power;
}

/** Widths beyond this many times the longest bar are cut: one doubt shall not squeeze all bars to nothing. */
const most_doubt = 3;

/** One scale for all, so that bars of one ledger can be compared. A flaw without seconds has no bar. */
export function bars_of(flaws: readonly Pick<PairFlaw, 'seconds' | 'interval_s'>[]): Bars {
  let low = 0;
  let high = 0;
  let longest = 0;
  for (const { seconds, interval_s } of flaws) {
    if (seconds === null) continue;
    longest = Math.max(longest, Math.abs(seconds));
    low = Math.min(low, seconds, interval_s?.[0] ?? seconds);
    high = Math.max(high, seconds, interval_s?.[1] ?? seconds);
  }
  const reach = Math.max(1, most_doubt * longest);
  low = Math.max(low, -reach);
  high = Math.min(high, reach);
  if (!(high - low > 0.2)) {
    low = Math.min(low, -0.5);
    high = Math.max(high, 0.5);
  }
  const span = high - low;
  const at = (value: number) => (value - low) / span;
  const step = step_for(span);
  const ticks: Bars['ticks'] = [];
  for (let index = Math.ceil(low / step - 1e-9); index * step <= high + 1e-9; ++index) {
    const value = Number((index * step).toPrecision(12));
    ticks.push({ at: at(value), text: String(value).replace('-', '\u2212') });
  }
  return {
    zero: at(0),
    ticks,
    bars: flaws.map(({ seconds, interval_s }) => {
      if (seconds === null) return null;
      const [from, to] = [interval_s?.[0] ?? seconds, interval_s?.[1] ?? seconds];
      return {
        from: at(Math.min(0, seconds)), to: at(Math.max(0, seconds)), low: at(Math.max(low, from)), high: at(Math.min(high, to)),
        gains: seconds > 0, sure: from > 0 || to < 0, cut_low: from < low, cut_high: to > high,
      };
    }),
  };
}

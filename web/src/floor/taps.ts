// Revolutions from taps, one each turn: the slope of turns over time, with its standard error. A tap that
// bounced is dropped, a turn that was missed counts as two.
import type { Stopwatch } from './stopwatch';

/** A finger never taps two turns closer than this, ms: 20 turns a second are the most of any such propeller. */
const bounce_ms = 50;
/** Fewer taps tell no doubt: the spread of the residuals needs some degrees of freedom. */
export const fewest_taps = 5;

export type Turn = {
  /** From the first tap, s. */
  at_s: number;
  /** Of the turns since the tap before, mean. */
  rev_per_s: number;
  /** Turns since the tap before: 2 where one was missed. */
  turns: number;
};

export type Tapped = {
  rev_per_s: number;
  /** Standard error, widened for few taps; null below `fewest_taps`. */
  sigma_rev_per_s: number | null;
  /** Turns between the first and the last tap. */
  turns: number;
  each: Turn[];
  dropped: number;
};

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

const gaps = (times: readonly number[]): number[] => times.slice(1).map((time, index) => time - times[index]!);

/** Taps without those that bounced: closer to the one before than half of the usual time. */
function without_bounces(times_ms: readonly number[]): number[] {
  const kept = times_ms.filter((time, index) => index === 0 || time - times_ms[index - 1]! >= bounce_ms);
  if (kept.length < 4) return kept;
  const usual = median(gaps(kept));
  const steady: number[] = [];
  for (const time of kept) {
    const last = steady.at(-1);
    if (last === undefined || time - last >= 0.5 * usual) steady.push(time);
  }
  return steady;
}

/** Turns between the taps: whole multiples of the usual time. */
function turns_between(times_ms: readonly number[]): number[] {
  const all = gaps(times_ms);
  const usual = median(all);
  return all.map((gap) => Math.max(1, Math.round(gap / usual)));
}

/** Least squares of the times over the counted turns: time per turn, and its standard error, ms. */
function period_of(times_ms: readonly number[], counted: readonly number[]): { ms: number; sigma_ms: number | null } {
  const n = times_ms.length;
  const mean_count = counted.reduce((sum, count) => sum + count, 0) / n;
  const mean_time = times_ms.reduce((sum, time) => sum + time, 0) / n;
  let square = 0, product = 0;
  counted.forEach((count, index) => {
    square += (count - mean_count) ** 2;
    product += (count - mean_count) * (times_ms[index]! - mean_time);
  });
  const ms = product / square;
  if (n < fewest_taps) return { ms, sigma_ms: null };
  let rest = 0;
  counted.forEach((count, index) => (rest += (times_ms[index]! - mean_time - ms * (count - mean_count)) ** 2));
  const freedom = n - 2;
  // Few taps: the standard deviation of Student's t with so many degrees of freedom.
  const wider = Math.sqrt(freedom / (freedom - 2));
  return { ms, sigma_ms: Math.sqrt(rest / freedom / square) * wider };
}

/** Null before the third tap. Times in ms of any one clock, rising. */
export function tapped(times_ms: readonly number[]): Tapped | null {
  const times = without_bounces(times_ms);
  if (times.length < 3) return null;
  const between = turns_between(times);
  const counted = [0];
  for (const turns of between) counted.push(counted.at(-1)! + turns);
  const { ms, sigma_ms } = period_of(times, counted);
  const rev_per_s = 1000 / ms;
  return {
    rev_per_s,
    sigma_rev_per_s: sigma_ms === null ? null : (rev_per_s * sigma_ms) / ms,
    turns: counted.at(-1)!,
    each: between.map((turns, index) => ({
      at_s: (times[index + 1]! - times[0]!) / 1000,
      rev_per_s: (1000 * turns) / (times[index + 1]! - times[index]!),
      turns,
    })),
    dropped: times_ms.length - times.length,
  };
}

/** Further taps that bring the doubt to `goal_rev_per_s`: it falls as the turns to the power 1.5. */
export function taps_until(now: Tapped, goal_rev_per_s: number): number {
  if (now.sigma_rev_per_s === null || now.sigma_rev_per_s <= goal_rev_per_s) return 0;
  return Math.ceil(now.turns * ((now.sigma_rev_per_s / goal_rev_per_s) ** (2 / 3) - 1));
}

/**
 * Middle of the taps, s after launch; null unless the watch ran from the first to the last. `zero_ms` is the
 * watch's time at nought of the taps' clock.
 */
export function tapped_at_s(times_ms: readonly number[], { started_ms, stopped_ms }: Stopwatch, zero_ms: number): number | null {
  const first = times_ms[0], last = times_ms.at(-1);
  if (first === undefined || last === undefined || started_ms === null) return null;
  if (zero_ms + first < started_ms || (stopped_ms !== null && zero_ms + last > stopped_ms)) return null;
  return Math.round((zero_ms + (first + last) / 2 - started_ms) / 100) / 10;
}

// A stopwatch that is nothing but the time of day at which it was started and stopped: a locked screen, a
// page that sleeps or is loaded again does it no harm.

export type Stopwatch = {
  /** Milliseconds since 1970, as Date.now() has it; null: not started. */
  started_ms: number | null;
  /** Null: running, or not started. */
  stopped_ms: number | null;
  /** When the top was called, if it was. */
  top_ms: number | null;
};

export const at_rest: Stopwatch = { started_ms: null, stopped_ms: null, top_ms: null };

export type Phase = 'ready' | 'flying' | 'landed';

export function phase(watch: Stopwatch): Phase {
  if (watch.started_ms === null) return 'ready';
  return watch.stopped_ms === null ? 'flying' : 'landed';
}

/** Seconds flown; null before the start, and when the clock of the device was set back meanwhile. */
export function flown_s(watch: Stopwatch, now_ms: number): number | null {
  if (watch.started_ms === null) return null;
  const seconds = ((watch.stopped_ms ?? now_ms) - watch.started_ms) / 1000;
  return seconds >= 0 ? seconds : null;
}

export function top_s(watch: Stopwatch): number | null {
  if (watch.started_ms === null || watch.top_ms === null) return null;
  const seconds = (watch.top_ms - watch.started_ms) / 1000;
  return seconds >= 0 ? seconds : null;
}

export const launched = (now_ms: number): Stopwatch => ({ started_ms: now_ms, stopped_ms: null, top_ms: null });

export const landed = (watch: Stopwatch, now_ms: number): Stopwatch =>
  phase(watch) === 'flying' ? { ...watch, stopped_ms: now_ms } : watch;

export const topped = (watch: Stopwatch, now_ms: number): Stopwatch =>
  phase(watch) === 'flying' ? { ...watch, top_ms: now_ms } : watch;

/** As text of the browser's storage; anything else is a watch at rest. */
export function read_watch(kept: unknown): Stopwatch {
  if (kept === null || typeof kept !== 'object') return at_rest;
  const { started_ms, stopped_ms, top_ms } = kept as Record<string, unknown>;
  const time = (value: unknown) => (typeof value === 'number' && Number.isFinite(value) ? value : null);
  if (time(started_ms) === null) return at_rest;
  return { started_ms: time(started_ms), stopped_ms: time(stopped_ms), top_ms: time(top_ms) };
}

/** Minutes and seconds for the big figures, tenths apart: ["12:48", ".6"]. Tenths are cut, as a watch does. */
export function watch_text(seconds: number): [string, string] {
  const tenths = Math.floor(seconds * 10 + 1e-6);
  const whole = Math.floor(tenths / 10);
  return [`${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`, `.${tenths % 10}`];
}

/** "12.48" is 12 min 48 s for some and hardly 12.48 s for others. Null: it is read in one way only. */
export function two_ways(text: string): { minutes: string; seconds: string } | null {
  const found = /^(\d{1,2})[.,](\d{2})$/.exec(text.trim());
  return found && Number(found[2]) < 60 && Number(found[1]) > 0 ? { minutes: `${found[1]}:${found[2]}`, seconds: `${found[1]}.${found[2]}\u00a0s` } : null;
}

/** Seconds out of "12:48.6", "12 min 48 s", "768.6"; null for anything else. */
export function seconds_of(text: string): number | null {
  const trimmed = text.trim().replace(',', '.');
  const parted = /^(\d{1,3})\s*(?::|m|min)\s*(\d{1,2}(?:\.\d+)?)\s*s?$/.exec(trimmed);
  if (parted) return Number(parted[2]) < 60 ? Number(parted[1]) * 60 + Number(parted[2]) : null;
  return /^\d+(\.\d+)?\s*s?$/.test(trimmed) ? Number.parseFloat(trimmed) : null;
}

// What belongs to this browser and not to a design: the colour scheme, and how large the screen draws.

export type Scheme = 'device' | 'light' | 'dark';
const scheme_key = 'propwright-scheme';
const screen_key = 'propwright-screen';

/** Dots a millimetre no screen falls short of or exceeds: a projector, and twice the finest phone. */
export const screen_limits = { low: 0.5, high: 80 };

class Settings {
  scheme = $state<Scheme>('device');
  /** Dots of this screen a millimetre, measured with a ruler; null until then. */
  dots_per_mm = $state<number | null>(null);

  start(): void {
    const kept = read(scheme_key);
    if (kept === 'light' || kept === 'dark') this.choose(kept);
    const dots = Number(read(screen_key) ?? NaN);
    if (dots >= screen_limits.low && dots <= screen_limits.high) this.dots_per_mm = dots;
  }

  choose(scheme: Scheme): void {
    this.scheme = scheme;
    const root = document.documentElement;
    if (scheme === 'device') delete root.dataset.scheme;
    else root.dataset.scheme = scheme;
    keep(scheme_key, scheme === 'device' ? null : scheme);
  }

  /** Null forgets the measurement. */
  calibrate(dots_per_mm: number | null): void {
    this.dots_per_mm = dots_per_mm;
    keep(screen_key, dots_per_mm === null ? null : String(dots_per_mm));
  }
}

/** Storage may be switched off: nothing is kept then, and nothing fails. */
function read(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

function keep(key: string, value: string | null): void {
  try {
    if (value === null) localStorage.removeItem(key);
    else localStorage.setItem(key, value);
  } catch {
    // As above.
  }
}

export const settings = new Settings();

// What belongs to this browser and not to a design: the colour scheme.

export type Scheme = 'device' | 'light' | 'dark';
const key = 'propwright-scheme';

class Settings {
  scheme = $state<Scheme>('device');

  start(): void {
    try {
      const kept = localStorage.getItem(key);
      if (kept === 'light' || kept === 'dark') this.choose(kept);
    } catch {
      // Storage may be switched off; the device's own choice then holds.
    }
  }

  choose(scheme: Scheme): void {
    this.scheme = scheme;
    const root = document.documentElement;
    if (scheme === 'device') delete root.dataset.scheme;
    else root.dataset.scheme = scheme;
    try {
      if (scheme === 'device') localStorage.removeItem(key);
      else localStorage.setItem(key, scheme);
    } catch {
      // As above.
    }
  }
}

export const settings = new Settings();

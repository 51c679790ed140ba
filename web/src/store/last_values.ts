// The last few values a builder gave a field, offered again the next time. Kept in this browser.

const key = 'propwright-last-values';
const most = 5;

type Kept = Record<string, string[]>;

function load(): Kept {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(key) ?? '{}');
    return kept !== null && typeof kept === 'object' ? (kept as Kept) : {};
  } catch {
    return {};
  }
}

/** Newest first. */
export function remembered(path: string): string[] {
  const list = load()[path];
  return Array.isArray(list) ? list.filter((text) => typeof text === 'string') : [];
}

export function remember(path: string, value: unknown): void {
  if (typeof value !== 'string' && typeof value !== 'number') return;
  const text = String(value);
  const kept = load();
  kept[path] = [text, ...remembered(path).filter((other) => other !== text)].slice(0, most);
  try {
    localStorage.setItem(key, JSON.stringify(kept));
  } catch {
    // Storage off or full: nothing is offered next time.
  }
}

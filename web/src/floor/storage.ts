// What this browser keeps of the floor, as JSON by key.

/** Null: nothing is there, or it cannot be read. */
export function stored(key: string): unknown {
  try {
    return JSON.parse(localStorage.getItem(key) ?? 'null');
  } catch {
    return null;
  }
}

export function store(key: string, value: unknown): void {
  try {
    localStorage.setItem(key, JSON.stringify(value));
  } catch {
    // Storage off or full: it lasts as long as the page.
  }
}

// Where flights lie in this browser: IndexedDB, which plain HTTP and a page opened from a file may use.
// Where a browser refuses it (a private window, say), the browser's smaller storage serves.
import type { FlightRow } from './remote';
import type { LoggedFlight } from './flight';

export type Entry = {
  flight: LoggedFlight;
  /** `waiting` for the workshop, `kept` there, two different states of it (`conflict`), or not taken (`refused`). */
  state: 'waiting' | 'kept' | 'conflict' | 'refused';
  /** The workshop's revision that this one is, or was changed from; null: it has none yet. */
  base: number | null;
  /** The workshop's state, of a conflict. */
  present?: FlightRow;
  /** Why it was not taken. */
  reason?: string;
};

export interface Shelf {
  all(): Promise<Entry[]>;
  put(entries: readonly Entry[]): Promise<void>;
  remove(id: string): Promise<void>;
}

const name = 'propwright-floor', table = 'flights', text_key = 'propwright-floor-flights';

const done = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error('the browser keeps nothing'));
  });

class Database implements Shelf {
  constructor(private readonly db: IDBDatabase) {}

  all(): Promise<Entry[]> {
    return done(this.db.transaction(table).objectStore(table).getAll() as IDBRequest<Entry[]>);
  }

  put(entries: readonly Entry[]): Promise<void> {
    const transaction = this.db.transaction(table, 'readwrite', { durability: 'strict' });
    const store = transaction.objectStore(table);
    for (const entry of entries) store.put(entry);
    return new Promise((resolve, reject) => {
      transaction.oncomplete = () => resolve();
      transaction.onabort = () => reject(transaction.error ?? new Error('the browser keeps nothing'));
    });
  }

  async remove(id: string): Promise<void> {
    await done(this.db.transaction(table, 'readwrite').objectStore(table).delete(id));
  }
}

class Text implements Shelf {
  #entries = new Map<string, Entry>();
  constructor() {
    try {
      const kept = JSON.parse(localStorage.getItem(text_key) ?? '[]') as Entry[];
      for (const entry of kept) this.#entries.set(entry.flight.id, entry);
    } catch {
      // Storage off: flights last as long as the page, and the page says so.
    }
  }

  all(): Promise<Entry[]> {
    return Promise.resolve([...this.#entries.values()]);
  }

  async put(entries: readonly Entry[]): Promise<void> {
    for (const entry of entries) this.#entries.set(entry.flight.id, entry);
    localStorage.setItem(text_key, JSON.stringify([...this.#entries.values()]));
  }

  async remove(id: string): Promise<void> {
    this.#entries.delete(id);
    localStorage.setItem(text_key, JSON.stringify([...this.#entries.values()]));
  }
}

export async function open_shelf(): Promise<Shelf> {
  try {
    const request = indexedDB.open(name, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(table, { keyPath: 'flight.id' });
    return new Database(await done(request));
  } catch {
    return new Text();
  }
}

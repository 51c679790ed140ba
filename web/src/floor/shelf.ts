// Where flights lie in this browser: IndexedDB, which plain HTTP and a page opened from a file may use.
// Where a browser refuses it (a private window, say), the browser's smaller storage serves. Each change is one step:
// no other tab writes between the look at an entry and what is made of it.
import type { FlightRow } from './remote';
import type { LoggedFlight } from './flight';

export type Entry = {
  flight: LoggedFlight;
  /** `waiting` for the workshop, `kept` there, two different states of it (`conflict`), or not taken (`refused`). */
  state: 'waiting' | 'kept' | 'conflict' | 'refused';
  /** The workshop's revision that this one is, or was changed from; null: it has none yet. */
  base: number | null;
  /** The other state, of a conflict: the workshop's, else as `from` says. */
  present?: FlightRow;
  /** The other state is not the workshop's: it came in with a file or by codes, or another tab kept it. */
  from?: 'file' | 'tab';
  /** Why it was not taken. */
  reason?: string;
  /** Id of the workshop it was kept for; none: no workshop was known yet. */
  workshop?: string;
  /** As it was sent without an answer so far: the workshop may have these by now. */
  sent?: LoggedFlight[];
  /** Until then it is not sent, ms since 1970: it can still be taken out. */
  held_until_ms?: number;
};

/** What an entry becomes: another, null for none, undefined as it is. An entry of another id is put beside the one looked at. */
export type Change = (there: Entry | undefined, id: string) => Entry | null | undefined;

export interface Shelf {
  all(): Promise<Entry[]>;
  /** What lies there afterwards, by id: of those looked at and of those put. */
  change(ids: readonly string[], change: Change): Promise<Map<string, Entry | undefined>>;
}

const name = 'propwright-floor', table = 'flights', text_key = 'propwright-floor-flights';
/** From so many on, all are read at once. */
const many = 200;

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

  change(ids: readonly string[], change: Change): Promise<Map<string, Entry | undefined>> {
    const transaction = this.db.transaction(table, 'readwrite', { durability: 'strict' });
    const store = transaction.objectStore(table);
    const now = new Map<string, Entry | undefined>();
    let failed: unknown = null;
    const make = (id: string, there: Entry | undefined): void => {
      try {
        const next = change(there, id);
        if (!now.has(id)) now.set(id, there);
        if (next === null) {
          store.delete(id);
          now.set(id, undefined);
        } else if (next !== undefined) {
          store.put(next);
          now.set(next.flight.id, next);
        }
      } catch (error) {
        failed = error;
        transaction.abort();
      }
    };
    if (ids.length < many) {
      for (const id of ids) {
        const request = store.get(id) as IDBRequest<Entry | undefined>;
        request.onsuccess = () => failed === null && make(id, request.result);
      }
    } else {
      const request = store.getAll() as IDBRequest<Entry[]>;
      request.onsuccess = () => {
        const there = new Map(request.result.map((entry) => [entry.flight.id, entry]));
        for (const id of ids) if (failed === null) make(id, there.get(id));
      };
    }
    return new Promise((resolve, reject) => {
      transaction.oncomplete = () => resolve(now);
      transaction.onabort = () => reject(failed ?? transaction.error ?? new Error('the browser keeps nothing'));
    });
  }
}

class Text implements Shelf {
  #read(): Map<string, Entry> {
    const kept = JSON.parse(localStorage.getItem(text_key) ?? '[]') as Entry[];
    return new Map(kept.map((entry) => [entry.flight.id, entry]));
  }

  async all(): Promise<Entry[]> {
    return [...this.#read().values()];
  }

  async change(ids: readonly string[], change: Change): Promise<Map<string, Entry | undefined>> {
    const entries = this.#read();
    const now = new Map<string, Entry | undefined>();
    for (const id of ids) {
      const next = change(entries.get(id), id);
      if (next === null) entries.delete(id);
      else if (next !== undefined) entries.set(next.flight.id, next);
      now.set(id, entries.get(id));
      if (next) now.set(next.flight.id, next);
    }
    localStorage.setItem(text_key, JSON.stringify([...entries.values()]));
    return now;
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

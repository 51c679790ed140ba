// The life of the propeller in hand as the program tells it, and what is added to it here.
import { answer, client, Gone, Refused, type Answer } from '../../api/client';
import type { components } from '../../../generated/schema';
import type { Problem } from '../../api/types';
import { local_time } from '../../floor/flight';
import { words_of } from '../../store/saving.svelte';

type Schemas = components['schemas'];
export type PropellerLife = Schemas['PropellerLife'];
export type LifeState = Schemas['LifeState'];
export type EventKind = Schemas['LifeEventKind'];
export type LifeEvent = PropellerLife['events'][number];
export type LifePhoto = PropellerLife['photos'][number];

export const event_words: Readonly<Record<EventKind, string>> = {
  repair: 'Repaired', measured: 'Measured', setting: 'Set anew', covered: 'Covered', stored: 'Stored', crash: 'Crashed', note: 'Note',
};

export const today = (): string => local_time(Date.now()).slice(0, 10);

class Life {
  of = $state.raw<PropellerLife | null>(null);
  problems = $state.raw<Problem[]>([]);
  busy = $state(false);
  #asked = '';
  /** Questions are numbered: an older answer does not take the place of a newer one. */
  #asks = 0;
  #shown = 0;

  async read(id: string): Promise<void> {
    if (this.#asked !== id) this.busy = false;
    this.#asked = id;
    if (this.of?.id !== id) this.of = null;
    await this.#take(id, answer(client.GET('/api/propellers/{id}/life', { params: { path: { id }, query: { day: today() } } })));
  }

  /** `id`: of the propeller that it is about, whichever is opened meanwhile. True when it is in the workshop. */
  add(id: string, kind: EventKind, time: string, words: string): Promise<boolean> {
    return this.#take(id, answer(client.POST('/api/propellers/{id}/events', { params: { path: { id } }, body: { kind, time, words } })));
  }

  photograph(id: string, photo: Schemas['LifePhotoEntry']): Promise<boolean> {
    return this.#take(id, answer(client.POST('/api/propellers/{id}/photos', { params: { path: { id } }, body: photo })));
  }

  put_away(id: string, what: LifeEvent): Promise<boolean> {
    const params = { path: { id, event: what.id }, header: { 'If-Match': what.etag } };
    return this.#take(id, answer(client.POST('/api/propellers/{id}/events/{event}/archive', { params })));
  }

  put_away_photo(id: string, what: LifePhoto): Promise<boolean> {
    const params = { path: { id, photo: what.id }, header: { 'If-Match': what.etag } };
    return this.#take(id, answer(client.POST('/api/propellers/{id}/photos/{photo}/archive', { params })));
  }

  async #take(id: string, asked: Promise<Answer<PropellerLife>>): Promise<boolean> {
    const ask = ++this.#asks;
    if (this.#asked === id) this.busy = true;
    try {
      const { body } = await asked;
      if (this.#asked !== id) return true;
      if (ask > this.#shown) {
        this.of = body;
        this.#shown = ask;
      }
      this.problems = [];
      return true;
    } catch (error) {
      if (this.#asked !== id) return false;
      this.problems = error instanceof Refused ? error.problems : words_of(error);
      if (error instanceof Gone && this.of === null) setTimeout(() => void this.read(id), 1500);
      return false;
    } finally {
      if (this.#asked === id) this.busy = false;
    }
  }
}

export const life = new Life();

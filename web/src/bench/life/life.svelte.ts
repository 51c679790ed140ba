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

  async read(id: string): Promise<void> {
    this.#asked = id;
    if (this.of?.id !== id) this.of = null;
    await this.#take(id, answer(client.GET('/api/propellers/{id}/life', { params: { path: { id }, query: { day: today() } } })));
  }

  /** True when it is in the workshop. */
  add(kind: EventKind, time: string, words: string): Promise<boolean> {
    const id = this.#asked;
    return this.#take(id, answer(client.POST('/api/propellers/{id}/events', { params: { path: { id } }, body: { kind, time, words } })));
  }

  photograph(photo: Schemas['LifePhotoEntry']): Promise<boolean> {
    const id = this.#asked;
    return this.#take(id, answer(client.POST('/api/propellers/{id}/photos', { params: { path: { id } }, body: photo })));
  }

  put_away(what: LifeEvent): Promise<boolean> {
    const id = this.#asked;
    const params = { path: { id, event: what.id }, header: { 'If-Match': what.etag } };
    return this.#take(id, answer(client.POST('/api/propellers/{id}/events/{event}/archive', { params })));
  }

  put_away_photo(what: LifePhoto): Promise<boolean> {
    const id = this.#asked;
    const params = { path: { id, photo: what.id }, header: { 'If-Match': what.etag } };
    return this.#take(id, answer(client.POST('/api/propellers/{id}/photos/{photo}/archive', { params })));
  }

  async #take(id: string, asked: Promise<Answer<PropellerLife>>): Promise<boolean> {
    this.busy = true;
    try {
      const { body } = await asked;
      if (this.#asked === id) this.of = body;
      this.problems = [];
      return true;
    } catch (error) {
      this.problems = error instanceof Refused ? error.problems : words_of(error);
      if (error instanceof Gone && this.of === null) setTimeout(() => void this.read(id), 1500);
      return false;
    } finally {
      this.busy = false;
    }
  }
}

export const life = new Life();

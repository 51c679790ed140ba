// What the program says of the batch: asked anew at every entry. Nothing is worked out in the page.
import { api, Gone, Refused, said } from '../../api/client';
import type { Problem, Spar, SparPair, Spars, SparSanding, SparsRequest, SparText } from '../../api/types';
import { Latest } from '../../lib/latest';
import { design } from '../../store/design.svelte';
import { book } from './book.svelte';

const retry_ms = 1500;

/** The question about these spars with the rig and the wishes of the batch. */
export function request_of(spars: SparText[], next: string | null = null): SparsRequest | null {
  const { open, rig } = book;
  if (!open || !rig) return null;
  const { tolerance, minimum_size, step, size_sigma, mass_sigma, keep_pairs } = open.table;
  const wishes = Object.fromEntries(Object.entries({ tolerance, minimum_size, step, size_sigma, mass_sigma }).filter(([, text]) => text));
  return {
    rig: { name: rig.name, ...rig.table }, spars, units: design.profile, ...wishes, ...(keep_pairs?.length ? { keep_pairs } : {}), ...(next ? { next } : {}),
  };
}

/** A failure in words; a program older than these pages answers that it knows no such address. */
export function bench_problems(error: unknown): Problem[] {
  if (error instanceof Refused) {
    if (error.status !== 404 && error.status !== 405) return error.problems;
    return [said('The program that runs has no bench yet', 'Stop it, start the newer one, and load this page again')];
  }
  if (!(error instanceof Gone)) console.error(error);
  return [said('The program does not answer', 'Your entries stay here; look whether it still runs')];
}

class Advice {
  /** The last good answer; what is drawn while a newer one is on its way. */
  answer = $state.raw<Spars | null>(null);
  problems = $state.raw<Problem[]>([]);
  stale = $state(false);
  /** The spar the builder has in hand; null: the program says which. */
  chosen = $state<string | null>(null);

  in_hand = $derived(this.chosen ?? this.answer?.now?.id ?? null);
  spar = $derived(this.spar_of(this.in_hand));
  pair = $derived(this.pair_of(this.in_hand));
  sanding = $derived(this.answer?.sanding.find(({ id }) => id === this.in_hand) ?? this.#sanding_in_pair());

  #retry: ReturnType<typeof setTimeout> | undefined;
  #latest = new Latest<SparsRequest, Spars>(
    async (request) => (await api.spars(request)).body,
    (answer, _, newest) => {
      this.answer = answer;
      if (!newest) return;
      this.stale = false;
      this.problems = [];
    },
    (error) => {
      this.stale = true;
      this.problems = bench_problems(error);
      clearTimeout(this.#retry);
      if (error instanceof Gone) this.#retry = setTimeout(() => this.ask(), retry_ms);
    },
  );

  /** The place is open: follows the batch until the function it gives is called. */
  follow(): () => void {
    const forget = book.on_change(() => this.ask());
    if (book.state === 'ready') this.ask();
    return () => {
      forget();
      clearTimeout(this.#retry);
    };
  }

  ask(): void {
    const request = request_of(book.rows.map(({ spar }) => spar), this.chosen);
    if (request) this.#latest.submit(request);
    else this.answer = null;
  }

  choose(id: string | null): void {
    if (id === this.chosen) return;
    this.chosen = id;
    this.ask();
  }

  spar_of(id: string | null): Spar | null {
    return this.answer?.spars.find((spar) => spar.id === id) ?? null;
  }

  pair_of(id: string | null): SparPair | null {
    return this.answer?.pairs.find(({ a, b }) => a === id || b === id) ?? null;
  }

  #sanding_in_pair(): SparSanding | null {
    const pair = this.pair;
    return this.answer?.sanding.find(({ id }) => pair && (id === pair.a || id === pair.b)) ?? null;
  }
}

export const advice = new Advice();

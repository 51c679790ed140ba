// The flight of the design under the hand, asked anew at every change.
import { tick } from 'svelte';
import { api, Gone, Refused } from '../api/client';
import type { DesignDocument, Flight, Problem, Sensitivities, Spread } from '../api/types';
import { Latest } from '../lib/latest';
import { design } from './design.svelte';
import { run_work, type RunningWork } from './work';

export type Held = { document: DesignDocument; flight: Flight; label: string };

/** How long the hand rests before the doubt is worked out anew, ms. */
const rest_ms = 250;
const retry_ms = 1000;

class Live {
  /** The last good answer, and the document it belongs to. */
  flight = $state.raw<Flight | null>(null);
  document = $state.raw<DesignDocument | null>(null);
  /** Problems of the present document; empty when it flies. */
  problems = $state.raw<Problem[]>([]);
  /** The present document has no answer: what is drawn belongs to an earlier one. */
  stale = $state(false);
  /** The program behind the pages does not answer. */
  gone = $state(false);
  /** Another device whose access has ended. */
  locked = $state(false);
  held = $state.raw<Held | null>(null);
  /** What each doubt does to the duration, of the last state at which the hand rested. */
  sensitivities = $state.raw<Sensitivities | null>(null);
  spread = $state.raw<{ result: Spread; of: Flight } | null>(null);
  /** Share of the sampling done, 0 to 1; null when none is under way. */
  sampling = $state<number | null>(null);

  #by_field = $derived.by(() => {
    const index = new Map<string, Problem[]>();
    for (const problem of this.problems) {
      const list = index.get(problem.field);
      if (list) list.push(problem);
      else index.set(problem.field, [problem]);
    }
    return index;
  });

  /** The last sampled doubt over the one from sensitivities at the same state: flights are not straight
   *  lines in their doubts, and the ± should not jump each time the hand rests. */
  #sampled_over_linear = 1;
  #asked_at = 0;
  #rest: ReturnType<typeof setTimeout> | undefined;
  #retry: ReturnType<typeof setTimeout> | undefined;
  #work: RunningWork<unknown> | null = null;
  #latest = new Latest<{ document: DesignDocument; at: number }, Flight>(
    async ({ document }) =>
      (await api.flight({ ...document, relative_sigma: this.#relative_sigma() })).body,
    (flight, { document, at }, newest) => this.#arrived(flight, document, at, newest),
    (error, { document }) => this.#failed(error, document),
  );

  start(): void {
    design.on_change((document) => this.ask(document));
  }

  ask(document: DesignDocument): void {
    this.#asked_at = performance.now();
    clearTimeout(this.#rest);
    this.#work?.stop();
    this.#work = null;
    this.sampling = null;
    this.#latest.submit({ document, at: this.#asked_at });
  }

  problems_of(field: string): Problem[] {
    return this.#by_field.get(field) ?? [];
  }

  /** The doubt of the flight shown: sampled once the hand has rested, until then from sensitivities. */
  get sigma_s(): number | null {
    const flight = this.flight;
    if (!flight) return null;
    if (this.spread?.of === flight) return this.spread.result.sigma_s;
    if (flight.headline.sigma_s !== null) return flight.headline.sigma_s;
    const relative = this.#relative_sigma();
    return relative === null ? null : relative * flight.duration_s;
  }

  #relative_sigma(): number | null {
    return this.sensitivities ? this.sensitivities.relative_sigma * this.#sampled_over_linear : null;
  }

  /** Keeps the present state as a ghost in every chart. */
  hold(label: string): void {
    if (!this.flight || !this.document) return;
    this.held = { document: this.document, flight: this.flight, label };
  }

  /** Holds a state from elsewhere: another version, another design. */
  hold_other(held: Held): void {
    this.held = held;
  }

  release(): void {
    this.held = null;
  }

  #arrived(flight: Flight, document: DesignDocument, at: number, newest: boolean): void {
    this.flight = flight;
    this.document = document;
    this.gone = false;
    this.locked = false;
    if (!newest) return;
    if (this.problems.length > 0) this.problems = [];
    this.stale = false;
    void this.#drawn(at);
    this.#rest = setTimeout(() => void this.#refine(flight, document), rest_ms);
  }

  #failed(error: unknown, document: DesignDocument): void {
    if (document !== design.document) return;
    this.stale = true;
    if (error instanceof Refused) {
      this.gone = false;
      this.locked = error.status === 401;
      this.problems = error.problems;
      return;
    }
    this.gone = true;
    if (!(error instanceof Gone)) console.error(error);
    clearTimeout(this.#retry);
    this.#retry = setTimeout(() => {
      if (!this.#latest.busy) this.ask(design.document);
    }, retry_ms);
  }

  /** One measure per redraw, for the browser tests: from the change to the page being drawn. */
  async #drawn(at: number): Promise<void> {
    await tick();
    performance.measure('propwright-redraw', { start: at, end: performance.now() });
    performance.clearMeasures('propwright-redraw');
  }

  /** First what each doubt does, for the ± of every state from here on; then the sampled interval. */
  async #refine(flight: Flight, document: DesignDocument): Promise<void> {
    const quick = run_work({ kind: 'sensitivities', ...document });
    this.#work = quick;
    const found = await quick.result;
    if (this.#work !== quick) return;
    if (found) this.sensitivities = found;
    const spread = run_work(
      { kind: 'spread', ...document },
      { progress: (share) => this.#work === spread && (this.sampling = share) },
    );
    this.#work = spread;
    const result = await spread.result;
    if (this.#work !== spread) return;
    this.#work = null;
    this.sampling = null;
    if (!result) return;
    const linear_s = (this.sensitivities?.relative_sigma ?? 0) * flight.duration_s;
    if (linear_s > 0) this.#sampled_over_linear = result.sigma_s / linear_s;
    this.spread = { result, of: flight };
  }
}

export const live = new Live();

// Another design beside the present one. It is drawn where the held state is drawn, in its own hue.
import { api } from '../api/client';
import type { DesignDocument } from '../api/types';
import { live, type Held } from '../store/live.svelte';

class Comparison {
  #with = $state.raw<Held | null>(null);
  busy = $state(false);
  problem = $state('');

  /** True while what is held came from another design, not from the hand. */
  active = $derived(this.#with !== null && live.held === this.#with);

  async start(label: string, document: DesignDocument): Promise<boolean> {
    this.busy = true;
    this.problem = '';
    try {
      const { body } = await api.flight(document);
      this.show({ document, flight: body, label });
      return true;
    } catch (error) {
      this.problem = error instanceof Error ? error.message : String(error);
      return false;
    } finally {
      this.busy = false;
    }
  }

  /** As start, where its flight is known already. */
  show(other: Held): void {
    this.#with = other;
    live.hold_other(other);
  }

  stop(): void {
    if (this.active) live.release();
    this.#with = null;
  }
}

export const comparison = new Comparison();

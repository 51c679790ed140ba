// What is open in this tab, from the first page load on.
import { api, Gone, Refused } from '../api/client';
import type { DesignDocument, Example, Profile } from '../api/types';
import { write } from '../lib/jobpath';
import { router } from '../lib/router.svelte';
import { design } from './design.svelte';
import { fields } from './fields.svelte';
import { live } from './live.svelte';
import { records } from './records';

class Session {
  state = $state<'loading' | 'locked' | 'ready' | 'empty' | 'gone'>('loading');
  examples = $state.raw<Example[]>([]);

  /** Units chosen before the design was there. */
  #units: Profile | null = null;

  choose_units(profile: Profile): void {
    if (this.state !== 'ready' && this.state !== 'empty') this.#units = profile;
    else design.set('job.units', profile);
  }

  #in_chosen_units(document: DesignDocument): DesignDocument {
    const units = this.#units;
    this.#units = null;
    return units === null ? document : { ...document, job: write(document.job, 'job.units', units) };
  }

  /** Loads the field table, then the design: of the address, of the draft, or the newest. */
  async start(): Promise<void> {
    try {
      await fields.load();
      this.examples = (await api.examples()).body;
      await this.#first_design();
    } catch (error) {
      if (error instanceof Refused && error.status === 401) {
        this.state = 'locked';
        return;
      }
      this.state = 'gone';
      if (!(error instanceof Gone)) console.error(error);
      setTimeout(() => void this.start(), 1000);
    }
  }

  async #first_design(): Promise<void> {
    const wanted = router.query.get('design');
    const drafted = design.take_draft();
    if (wanted && design.record?.id !== wanted) {
      await this.open(wanted);
    } else if (drafted) {
      design.replace(this.#in_chosen_units(design.document));
      live.ask(design.document);
      this.state = 'ready';
    } else {
      const newest = (await records.page({ q: '', archived: 'false', sort: '-updated_at', offset: 0, limit: 1 })).items[0];
      if (newest) await this.open(newest.id);
      else this.state = 'empty';
    }
  }

  /** Opens the newest version of a design of the workshop. */
  async open(id: string): Promise<void> {
    const opened = await records.open(id);
    design.open(this.#in_chosen_units(opened.document), opened.record);
    this.state = 'ready';
  }

  /** Starts from a document that is in no workshop yet, in the units that are chosen. */
  begin(document: DesignDocument): void {
    const units = design.get('job.units');
    const job = units === undefined ? document.job : write(document.job, 'job.units', units);
    design.open({ ...document, job }, null);
    this.state = 'ready';
    router.go('/brief');
  }
}

export const session = new Session();

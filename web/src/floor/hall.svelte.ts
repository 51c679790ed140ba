// The floor as a whole: how it starts, from what this browser keeps and what a saved page took along, and what such a page
// takes along from the workshop.
import type { Profile } from '../api/types';
import { air, type Air } from './air.svelte';
import { book } from './book.svelte';
import type { LoggedFlight } from './flight';
import { logging } from './logging.svelte';
import type { Remote } from './remote';
import { setup, type SetupTaken } from './setup.svelte';
import type { KeptCard } from './wind';
import { wind_card } from './wind_card.svelte';

/** What a page saved as a file takes along from the workshop. */
export type TakenAlong = SetupTaken & {
  made_at: string;
  card: KeptCard | null;
  air: Air;
  flights: { flight: LoggedFlight; revision: number }[];
  /** Id of the workshop; pages saved by an older program have none. */
  workshop?: string | null;
};

const flights_taken = 200;
/** What this browser keeps, and without a flight in hand also what the workshop has, is waited for so long before the page is shown. */
const shelf_ms = { in_hand: 300, none: 1500 };

class Hall {
  /** The flight in hand is known: the page can be used. */
  ready = $state(false);
  /** The browser keeps the pages: they load again without the program. */
  pages_kept = $state(false);
  #started = false;

  async start(remote: Remote | null, taken: TakenAlong | null, units: Profile | null): Promise<void> {
    setup.remote = remote;
    if (this.#started) {
      await book.start(remote);
      return;
    }
    this.#started = true;
    setup.begin(taken, units);
    book.meter_id = () => setup.meter_id_sent;
    air.begin(taken);
    wind_card.begin(taken?.card ?? null);
    const in_hand = logging.begin();
    const shelf = book.start(remote, taken?.workshop ?? null).then(() => (taken ? book.lay_in(taken.flights) : undefined));
    const known = in_hand ? shelf : Promise.all([shelf, book.first_look()]);
    await Promise.race([known, new Promise((resolve) => setTimeout(resolve, in_hand ? shelf_ms.in_hand : shelf_ms.none))]);
    if (!in_hand) logging.begin_after(known);
    this.ready = true;
    logging.follow();
    setup.read_names();
  }

  /** All that a page saved as a file needs to go on without the program. */
  taken_along(): TakenAlong {
    const { profile, torque_unit, winder_ratio, meter, risk } = setup.now;
    const flights = book.entries.filter(({ state }) => state === 'kept').slice(0, flights_taken).map(({ flight, base }) => ({ flight, revision: base ?? 0 }));
    return { made_at: new Date().toISOString(), profile, torque_unit, winder_ratio, meter, risk, card: wind_card.kept, air: air.values, names: setup.names, flights, workshop: book.workshop };
  }
}

export const hall = new Hall();

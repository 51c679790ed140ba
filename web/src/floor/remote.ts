// What the floor asks of the program. The page that was saved as a file has none.
import type { components } from '../../generated/schema';
import type { LoggedFlight } from './flight';
import type { WindAnswer } from './wind';

type Schemas = components['schemas'];
export type FlightRow = Schemas['FlightLogRow'];
export type Merged = Schemas['FlightsMerged']['flights'][number];
export type Sent = { flight: LoggedFlight; base?: number };

/** What of the air and the hall is as read today, with units; what is left out is as on the sheet. */
export type Today = { temperature?: string; pressure?: string; humidity?: string; roof?: string };

export interface Remote {
  /** Throws Gone when nobody answers, Refused when it was answered with problems. */
  merge(flights: readonly Sent[]): Promise<Merged[]>;
  latest(count: number): Promise<FlightRow[]>;
  /** Names of the propellers and motors in the workshop. */
  names(): Promise<{ propellers: string[]; motors: string[] }>;
  /** Null: no design is open. */
  wind: ((today: Today, winder_ratio: number) => Promise<WindAnswer>) | null;
  /** The page as one file, without what it is to take along. */
  page(): Promise<string>;
}

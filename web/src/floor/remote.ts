// What the floor asks of the program. The page that was saved as a file has none.
import type { Component } from 'svelte';
import type { components } from '../../generated/schema';
import type { LoggedFlight } from './flight';
import type { WindAnswer } from './wind';

type Schemas = components['schemas'];
export type FlightRow = Schemas['FlightLogRow'];
export type Merged = Schemas['FlightsMerged']['flights'][number];
export type Sent = { flight: LoggedFlight; base?: number };

/** What of the air and the hall is as read today, with units; what is left out is as on the sheet. */
export type Today = { temperature?: string; pressure?: string; humidity?: string; roof?: string };

/** A torque meter with its calibration. */
export type Meter = { id: string; name: string; meter: Schemas['MeterEntry'] };
export type Names = { propellers: string[]; motors: string[]; sessions?: string[] };

export interface Remote {
  /** Throws Gone when nobody answers, Refused when it was answered with problems. */
  merge(flights: readonly Sent[], meter_id: string | null): Promise<Merged[]>;
  latest(count: number): Promise<FlightRow[]>;
  /** Names of the propellers, motors and sessions in the workshop. */
  names(): Promise<Names>;
  /** Null: no design is open. */
  wind: ((today: Today, winder_ratio: number, meter: Meter | null) => Promise<WindAnswer>) | null;
  /** The torque meters of the workshop. */
  meters(): Promise<Meter[]>;
  /** The winding card of today as PDF; null where there is none. */
  print: ((today: Today, winder_ratio: number, meter: Meter | null, paper: 'a4' | 'letter') => Promise<Blob>) | null;
  /** What reads codes; only the pages have it, the file taken to the hall stays small. */
  reader: () => Promise<{ default: Component<{ open?: boolean }, object, 'open'> }>;
  /** The page as one file, without what it is to take along. */
  page(): Promise<string>;
}

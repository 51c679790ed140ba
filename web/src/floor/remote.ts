// What the floor asks of the program. The page that was saved as a file has none.
import type { Component } from 'svelte';
import type { components } from '../../generated/schema';
import type { LoggedFlight } from './flight';
import type { DesignDocument } from '../api/types';
import type { BatchBreaks, WoundTo } from './risk';
import type { Choices, Flyable, WindAnswer } from './wind';

type Schemas = components['schemas'];
export type FlightRow = Schemas['FlightLogRow'];
export type Merged = Schemas['FlightsMerged']['flights'][number];
export type Withdrawn = Schemas['FlightsWithdrawn']['flights'][number];
export type Sent = { flight: LoggedFlight; base?: number };

/** What of the air and the hall is as read today, with units; what is left out is as on the sheet. */
export type Today = { temperature?: string; pressure?: string; humidity?: string; roof?: string };

/** A torque meter with its calibration. */
export type Meter = { id: string; name: string; meter: Schemas['MeterEntry'] };
export type Names = { propellers: string[]; motors: string[]; sessions?: string[] };

export interface Remote {
  /** Throws Gone when nobody answers in time, Refused when it was answered with problems. `workshop_id`: the one they are for. */
  merge(flights: readonly Sent[], meter_id: string | null, workshop_id: string | null): Promise<Merged[]>;
  /** The latest flights, those taken out of the log last, and the workshop that is open. */
  latest(count: number): Promise<{ workshop_id: string; items: FlightRow[]; withdrawn: FlightRow[] }>;
  /** Takes flights out of the log, each where it is at the revision seen. */
  withdraw(flights: readonly { id: string; revision: number }[], workshop_id: string | null): Promise<Withdrawn[]>;
  /** Names of the propellers, motors and sessions in the workshop. */
  names(): Promise<Names>;
  /** The design that is open in the pages; null: none, or it is not known yet. */
  open: Flyable | null;
  /** The designs of the workshop, the newest first. */
  designs(): Promise<Flyable[]>;
  /** The designs that the propellers' own records name. */
  made_after(): Promise<Choices>;
  /** Says on a propeller's record which design it was made after; of one without a record nothing. */
  say_design(propeller: string, design_id: string): Promise<void>;
  /** In what a motor of the workshop differs from that of a design, in words; null: the workshop has none of that name. */
  motor_differs(name: string, document: DesignDocument): string[] | null;
  /** What the workshop knows of a batch's breaks, its log included; null: it has no batch of that name. */
  breaks_of(batch: string): Promise<BatchBreaks | null>;
  /** `wound_to` null: to the job's share of breaking turns. */
  wind(document: DesignDocument, today: Today, winder_ratio: number, meter: Meter | null, wound_to: WoundTo | null): Promise<WindAnswer>;
  /** The torque meters of the workshop. */
  meters(): Promise<Meter[]>;
  /** The winding card of today as PDF. */
  print(document: DesignDocument, today: Today, winder_ratio: number, meter: Meter | null, wound_to: WoundTo | null, paper: 'a4' | 'letter'): Promise<Blob>;
  /** What reads codes; only the pages have it, the file taken to the hall stays small. */
  reader: () => Promise<{ default: Component<{ open?: boolean }, object, 'open'> }>;
  /** The page as one file, without what it is to take along. */
  page(): Promise<string>;
}

// Which design each propeller of the log was built to, as the builder said or as the names tell.
import type { DesignDocument, DesignSummary, JobTable } from '../api/types';
import { named_by } from '../floor/contender';
import type { LoggedFlight } from '../floor/flight';
import { read, write } from '../lib/jobpath';

/** A propeller as the log knows it. */
export type Flown = { name: string; flights: number; last: string };

/**
 * The flights as they are compared: where a propeller flew at several settings, each under the name of its contender, "P18 at
 * 24°", and those that tell no setting not at all.
 */
export function told_apart(flights: readonly LoggedFlight[]): { flights: LoggedFlight[]; untold: LoggedFlight[]; propeller_of: ReadonlyMap<string, string> } {
  const named = named_by(flights);
  const told: LoggedFlight[] = [], untold: LoggedFlight[] = [], propellers = new Map<string, string>();
  for (const flight of flights) {
    const name = named(flight);
    if (flight.propeller && name === undefined) untold.push(flight);
    else told.push(name === flight.propeller ? flight : { ...flight, propeller: name });
    if (flight.propeller && name !== undefined) propellers.set(name, flight.propeller);
  }
  return { flights: told, untold, propeller_of: propellers };
}

/** Those named in the log, the ones flown last first. */
export function flown_in(flights: readonly LoggedFlight[]): Flown[] {
  const found = new Map<string, Flown>();
  for (const { propeller, time = '' } of flights) {
    if (!propeller) continue;
    const entry = found.get(propeller) ?? { name: propeller, flights: 0, last: '' };
    found.set(propeller, { ...entry, flights: entry.flights + 1, last: time > entry.last ? time : entry.last });
  }
  return [...found.values()].sort((a, b) => b.last.localeCompare(a.last) || b.flights - a.flights || a.name.localeCompare(b.name));
}

/** A design that flights may have been flown with. `id`: of the workshop's record, or one of this page's own. */
export type Design = { id: string; title: string; document: DesignDocument };

const key_of = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '');

/** The name of the propeller in a job; "" where it has none. */
export const propeller_of = (document: DesignDocument): string => String(read(document.job, 'propeller.name') ?? '');

/** The design whose propeller, or else whose own name, is that of the log; null where none or several are. */
export function guess(name: string, designs: readonly Design[]): string | null {
  const wanted = key_of(name);
  if (wanted === '') return null;
  for (const text_of of [({ document }: Design) => propeller_of(document), ({ title }: Design) => title]) {
    const found = designs.filter((design) => key_of(text_of(design)) === wanted);
    if (found.length === 1) return found[0]!.id;
    if (found.length > 1) return null;
  }
  return null;
}

/** What the builder chose: a design's id, or "" for none. Names without an entry are guessed. */
export type Pairs = { readonly [propeller: string]: string };

export function paired(name: string, pairs: Pairs, designs: readonly Design[]): Design | null {
  const id = pairs[name] ?? guess(name, designs);
  return designs.find((design) => design.id === id) ?? null;
}

/** The job with the propeller's name as the log has it: that is what ties the two together. */
/**
 * What flights taught, for a design: flights name the propeller as it is called in the hall, and the one who takes it
 * into the design says that they are the same.
 */
export function learned_for(document: DesignDocument, table: JobTable): JobTable {
  const { propeller: _, ...rest } = table;
  const own = propeller_of(document);
  return 'propeller' in table && own !== '' ? { ...rest, propeller: own } : rest;
}

export const named = (document: DesignDocument, name: string): DesignDocument => ({ ...document, job: write(document.job, 'propeller.name', name) });

/** The propellers to compare: as chosen, of those in the log; else the two flown last. */
export function compared(chosen: readonly string[] | null, flown: readonly Flown[]): string[] {
  const known = (chosen ?? []).filter((name) => flown.some((each) => each.name === name));
  const names = chosen !== null && (known.length > 0 || chosen.length === 0) ? known : flown.slice(0, 2).map(({ name }) => name);
  return [...names].sort((a, b) => a.localeCompare(b, 'en', { numeric: true }));
}

export const title_of = (summary: DesignSummary): string => `${summary.name}, version ${summary.version}${summary.built ? ', built' : ''}`;

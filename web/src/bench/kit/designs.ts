// Which design a propeller is of: the one whose own propeller bears its name.
import type { DesignDocument } from '../../api/types';
import { read } from '../../lib/jobpath';
import { records } from '../../store/records';
import { bench_records } from './records';

/** A design of the workshop, with the name that its propeller bears. */
export type NamedDesign = { id: string; name: string; propeller: string };

const most_designs = 200;
const at_once = 6;
const documents = new Map<string, DesignDocument>();

/** Newest first; each state of a design is read once. */
export async function designs_with_propellers(): Promise<NamedDesign[]> {
  const { items } = await records.page({ q: '', archived: 'false', sort: '-updated_at', offset: 0, limit: most_designs });
  const found: NamedDesign[] = [];
  for (let from = 0; from < items.length; from += at_once) {
    const part = await Promise.all(items.slice(from, from + at_once).map(async ({ id, etag, name }) => {
      const document = documents.get(`${id} ${etag}`) ?? (await records.open(id)).document;
      documents.set(`${id} ${etag}`, document);
      return { id, name, propeller: String(read(document.job, 'propeller.name') ?? '') };
    }));
    found.push(...part);
  }
  return found;
}

const plain = (name: string): string => name.trim().toLowerCase();
/** The propeller of a design, by this name. */
export const bears = (propeller: string, name: string): boolean => propeller !== '' && plain(propeller) === plain(name);

/**
 * The design whose propeller bears `name`; of several the open one, else none: then the builder is asked. A name
 * that no design knows leaves it at the one that stands there (`now`).
 */
export function design_for(name: string, designs: readonly NamedDesign[], open: string | null, now: string | null): string | null {
  const fitting = designs.filter(({ propeller }) => bears(propeller, name));
  if (fitting.length === 0) return now;
  if (fitting.some(({ id }) => id === now)) return now;
  return (fitting.find(({ id }) => id === open) ?? (fitting.length === 1 ? fitting[0]! : null))?.id ?? null;
}

/** Says on a propeller's record which design it was made after; null: none is said. */
export async function made_after(propeller_id: string, design_id: string | null): Promise<void> {
  const { etag, name, section, links } = await bench_records.get('propellers', propeller_id);
  const { design_id: _, ...others } = links;
  await bench_records.save('propellers', propeller_id, etag, { name, section, links: design_id === null ? others : { ...others, design_id } });
}

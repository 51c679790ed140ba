// The floor as one file: the page as built, and in it what it takes along from the workshop.
import type { TakenAlong } from './hall.svelte';

const open_tag = '<script type="application/json" id="taken-along">';
const place = /<script type="application\/json" id="taken-along">[^<]*<\/script>/;

/** JSON inside of a page must not end its own element. */
const harmless = (value: unknown): string => JSON.stringify(value).replaceAll('<', '\\u003c');

export function page_with(page: string, taken: TakenAlong): string {
  if (!place.test(page)) throw new Error('this page has no place for what is taken along');
  return page.replace(place, () => `${open_tag}${harmless(taken)}</script>`);
}

/** Null: nothing was taken along, or it is damaged. */
export function taken_from(document: Document): TakenAlong | null {
  try {
    const taken = JSON.parse(document.getElementById('taken-along')?.textContent ?? 'null') as TakenAlong | null;
    return taken && Array.isArray(taken.flights) ? taken : null;
  } catch {
    return null;
  }
}

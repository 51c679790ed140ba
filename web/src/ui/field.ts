// What the field components share.

let count = 0;

/** An id for label and note of one field. */
export function field_id(): string {
  return `f${++count}`;
}

const fields_selector = 'input:not([type=hidden]):not([type=range]):not(:disabled), select:not(:disabled)';

/** Enter goes to the next field of the same place, as the trade fills in a form. */
export function next_field(from: HTMLElement, back = false): void {
  const root = from.closest('main, dialog') ?? document.body;
  const all = [...root.querySelectorAll<HTMLElement>(fields_selector)].filter((field) => field.offsetParent !== null);
  const target = all[all.indexOf(from) + (back ? -1 : 1)];
  if (!target) return;
  target.focus();
  if (target instanceof HTMLInputElement && target.type !== 'checkbox') target.select();
}

/** "hall.roof_height" -> "Roof height": the label where none is given. */
export function label_of(path: string): string {
  const last = path.replace(/\[\d+\]/g, '').split('.').at(-1) ?? path;
  const words = last.replaceAll('_', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

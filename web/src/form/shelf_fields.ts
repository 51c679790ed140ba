// What the fields of the form shelf are called, and which of them each kind has.
import type { JobTable, Profile, ShelfKind } from '../api/types';
import { split } from '../store/fields.svelte';

export type ShelfField = { name: string; label: string; unit: '' | 'length' | 'angle' };

export const form_kinds: Record<string, string> = {
  block: 'carved block', ribbed: 'ribbed', solid: 'printed or milled', cylinder: 'cylinder', other: 'other',
};
export const hands: Record<string, string> = { '': 'not said', anticlockwise: 'anticlockwise, seen from behind', clockwise: 'clockwise, seen from behind' };

const diameter: ShelfField = { name: 'diameter', label: 'Diameter', unit: 'length' };
const helical: ShelfField[] = [
  { name: 'pitch', label: 'Pitch', unit: 'length' },
  { name: 'pitch_radius', label: 'Measured at radius', unit: 'length' },
];
const covers: ShelfField[] = [
  { name: 'from_radius', label: 'From radius', unit: 'length' },
  { name: 'to_radius', label: 'To radius', unit: 'length' },
  { name: 'width', label: 'Widest chord', unit: 'length' },
];
const bent: ShelfField[] = [
  { name: 'camber', label: 'Camber of chord', unit: '' },
  { name: 'angle_overbend', label: 'Over-bend of angles', unit: '' },
  { name: 'camber_overbend', label: 'Over-bend of camber', unit: '' },
];

export function fields_of(kind: ShelfKind, form_kind: string): ShelfField[] {
  if (kind === 'cylinders') return [diameter, { name: 'wall', label: 'Wall', unit: 'length' }];
  if (form_kind === 'cylinder') return [diameter, { name: 'skew', label: 'Skew', unit: 'angle' }, ...covers];
  return [...helical, ...covers, ...bent];
}

/** A bare number gets the unit that the field shows; all else goes as written, and the server judges it. */
export function written(text: string, field: ShelfField, profile: Profile): string {
  const parts = split(text);
  if (!parts || parts.unit !== '' || field.unit === '') return text.trim();
  return `${parts.number} ${unit_of(field, profile)}`;
}

export function unit_of(field: ShelfField, profile: Profile): string {
  if (field.unit === '') return '';
  return field.unit === 'angle' ? 'deg' : profile === 'inch' ? 'in' : 'mm';
}

/** The table of the record from the texts of its fields; empty ones are left out. */
export function table_of(kind: ShelfKind, texts: Record<string, string>, profile: Profile): JobTable {
  const table: JobTable = {};
  const words = kind === 'forms' ? ['kind', 'hand', 'notes'] : ['notes'];
  for (const name of words) if (texts[name]?.trim()) table[name] = texts[name];
  for (const field of fields_of(kind, texts.kind ?? '')) {
    const text = texts[field.name] ?? '';
    if (text.trim() !== '') table[field.name] = written(text, field, profile);
  }
  return table;
}

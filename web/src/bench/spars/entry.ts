// What stands in the fields of the entry row, and the spar it makes. Nothing is worked out here.
import type { Profile, SparRig, SparStateText, SparText } from '../../api/types';
import { fine_unit, joined, repeats, sizes_shown, two_sizes, with_unit, without_unit } from '../texts';

export const entry_names = ['id', 'mass', 'root', 'middle', 'tip', 'reading_0', 'reading_90', 'reading_45', 'off_0', 'off_90'] as const;
export type EntryName = (typeof entry_names)[number];
export type EntryTexts = Record<EntryName, string>;

/**
 * new: a spar the batch has not; round: sanded, then read; again: more readings of the state there is;
 * correct: the last state as typed now.
 */
export type EntryMode = 'new' | 'round' | 'again' | 'correct';

export const empty_texts = (id = ''): EntryTexts => ({
  id, mass: '', root: '', middle: '', tip: '', reading_0: '', reading_90: '', reading_45: '', off_0: '', off_90: '',
});

export const is_untouched = (texts: EntryTexts): boolean => entry_names.every((name) => name === 'id' || texts[name].trim() === '');

/** What the batch says of every spar in it. */
export type BatchWord = { shape?: SparText['shape']; length?: string; corner_radius?: string };

type Place = 'root' | 'middle' | 'tip';
const places: Place[] = ['root', 'middle', 'tip'];
const readings = ['reading_0', 'reading_90', 'reading_45'] as const;

/** Only what was typed: an empty field says nothing. */
function typed_state(texts: EntryTexts, profile: Profile): SparStateText {
  const unit = fine_unit(profile);
  const state: SparStateText = {};
  for (const place of places) {
    const { width, depth } = two_sizes(texts[place], unit);
    if (width) state[`${place}_width`] = width;
    if (depth) state[`${place}_depth`] = depth;
  }
  if (texts.mass.trim()) state.mass = with_unit(texts.mass, 'mg');
  for (const name of readings) {
    const list = repeats(texts[name], unit);
    if (list.length > 0) state[name] = list;
  }
  if (texts.off_0.trim()) state.off_each_face_0 = with_unit(texts.off_0, unit);
  if (texts.off_90.trim()) state.off_each_face_90 = with_unit(texts.off_90, unit);
  return state;
}

/** More readings after those there are; sizes and mass only where they were typed anew. */
function more(last: SparStateText, typed: SparStateText): SparStateText {
  const state: SparStateText = { ...last, ...typed };
  for (const name of readings) {
    const all = [...(last[name] ?? []), ...(typed[name] ?? [])];
    if (all.length > 0) state[name] = all;
  }
  return state;
}

/** The last state as typed; what the row has no field for stays. */
function corrected(last: SparStateText, typed: SparStateText, batch: BatchWord): SparStateText {
  const { step, measured_at, relative_humidity, rig, sanded_from, corner_radius = batch.corner_radius } = last;
  const stays = { step, measured_at, relative_humidity, rig, sanded_from, corner_radius };
  const known = Object.fromEntries(Object.entries(stays).filter(([, value]) => value !== undefined));
  return { ...known, ...typed };
}

export type Entering = {
  mode: EntryMode;
  profile: Profile;
  batch: BatchWord;
  /** The set-up of today, kept with the readings. */
  rig: SparRig | null;
  /** UTC. */
  at: string;
  /** Where the advised sanding began; kept with the round. */
  sanded_from?: string | undefined;
};

/** The spar as it is once the row is taken. */
export function entered(spar: SparText | null, texts: EntryTexts, entering: Entering): SparText {
  const { mode, profile, batch, rig, at, sanded_from } = entering;
  const typed = typed_state(texts, profile);
  const begin: SparText = spar ?? {
    id: texts.id.trim(), shape: batch.shape ?? 'square', length: batch.length ?? '', states: [],
  };
  const states = begin.states ?? [];
  const last = states.at(-1);
  const fresh: SparStateText = { measured_at: at, ...(rig ? { rig } : {}), ...typed };
  if (mode === 'round' && last) {
    const sanded = (typed.off_each_face_0 || typed.off_each_face_90) && sanded_from ? { sanded_from } : {};
    return { ...begin, states: [...states, { ...fresh, ...sanded }] };
  }
  if (!last) return { ...begin, states: [{ ...(batch.corner_radius ? { corner_radius: batch.corner_radius } : {}), ...fresh }] };
  if (mode === 'again') return { ...begin, states: [...states.slice(0, -1), more(last, typed)] };
  return { ...begin, states: [...states.slice(0, -1), corrected(last, typed, batch)] };
}

/** A state as the row shows it, to be corrected. */
export function texts_of(id: string, state: SparStateText, profile: Profile): EntryTexts {
  const unit = fine_unit(profile);
  const texts = empty_texts(id);
  for (const place of places) texts[place] = sizes_shown(state[`${place}_width`], state[`${place}_depth`], unit);
  texts.mass = without_unit(state.mass, 'mg');
  for (const name of readings) texts[name] = without_unit(joined(state[name] ?? []), unit);
  texts.off_0 = without_unit(state.off_each_face_0, unit);
  texts.off_90 = without_unit(state.off_each_face_90, unit);
  return texts;
}

/** The field of the row that "spars[1].states[2].reading_0[1]" speaks of; null for one it has not. */
export function field_of(path: string): EntryName | null {
  const name = /^spars\[\d+\]\.(?:states\[\d+\]\.)?(\w+)/.exec(path)?.[1];
  if (!name) return null;
  if (name.startsWith('off_each_face_')) return name.endsWith('90') ? 'off_90' : 'off_0';
  const place = places.find((each) => name.startsWith(`${each}_`));
  if (place) return place;
  return (entry_names as readonly string[]).includes(name) ? (name as EntryName) : null;
}

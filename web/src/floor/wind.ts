// The winding card as the program answers it (POST /api/wind), for which design it is, and what the floor keeps of it.
import type { components } from '../../generated/schema';
import type { DesignDocument } from '../api/types';
import type { Draft } from './draft';
import type { Today } from './remote';

export type WindAnswer = components['schemas']['Wind'];

/** A design that a card can be for. */
export type Flyable = {
  /** Of the workshop's record; "" for one that was never saved. */
  id: string;
  title: string;
  propeller: string;
  model: string;
  /** What of it flights have taught, in words; empty where the card is as the sheet has it. */
  learned: readonly string[];
  document: DesignDocument;
};

/** For which design a card was made; `key` changes with its content. */
export type CardOf = { id: string; title: string; key: string; learned: readonly string[] };

/** A card as last answered: shown as it is while the program does not answer. */
export type KeptCard = {
  answer: WindAnswer; today: Today; winder_ratio: number; asked_ms: number; of?: CardOf;
  /** Propellers that fly with it though the design names another; so that a copy without the program knows it. */
  flies?: readonly string[];
};

/** Whether the card is the answer to what is entered now; `key` null: the design is not known here. */
export const answers = (kept: KeptCard, today: Today, winder_ratio: number, key: string | null = null): boolean =>
  kept.winder_ratio === winder_ratio && JSON.stringify(kept.today) === JSON.stringify(today) && (key === null || kept.of?.key === key);

const letters_of = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '');
export const same_name = (a: string, b: string): boolean => letters_of(a) === letters_of(b);

/** The design that a builder chose for a propeller by its name; "" stands for a flight that names none. */
export type Choices = { readonly [propeller: string]: string };
export const choice_of = (propeller: string | undefined): string => letters_of(propeller ?? '');

/**
 * The design to wind for. Of a named propeller it is the one that was chosen for it, else the one whose propeller has
 * that name; only where there is none the first at hand, and then it is not `sure`.
 */
export function design_of(designs: readonly Flyable[], propeller: string | undefined, model: string | undefined, choices: Choices): { design: Flyable; sure: boolean } | null {
  const chosen = designs.find(({ id }) => id === choices[choice_of(propeller)]);
  if (chosen) return { design: chosen, sure: true };
  const fitting = propeller ? designs.filter((each) => same_name(each.propeller, propeller)) : [];
  const design = fitting.find((each) => !!model && same_name(each.model, model)) ?? fitting[0];
  if (design) return { design, sure: true };
  const first = designs.find((each) => !!model && same_name(each.model, model)) ?? designs[0];
  return first ? { design: first, sure: !propeller } : null;
}

/** What was read in the hall and differs from the sheet in no digit that is shown: no change. */
export const only_rounded = ({ changes }: WindAnswer): (keyof Today)[] =>
  changes.flatMap(({ what, from, to }) => (what !== 'all' && from === to ? [what] : []));

export function without(today: Today, fields: readonly (keyof Today)[]): Today {
  return Object.fromEntries(Object.entries(today).filter(([field]) => !fields.includes(field as keyof Today)));
}

/** Short text that differs where the content does: to see that a card is no longer that of its design. */
export function mark_of(content: unknown): string {
  let mark = 5381;
  for (const letter of JSON.stringify(content)) mark = (Math.imul(mark, 33) ^ letter.charCodeAt(0)) >>> 0;
  return mark.toString(36);
}

type Curve = WindAnswer['card']['curve'];
type Branch = 'torque_winding_Nm' | 'torque_unwinding_Nm';

/** Torque between the points of the curve: cubics whose slopes are those of the neighbouring points. */
export function torque_at(curve: Curve, branch: Branch, turns: number): number {
  const after = curve.findIndex((point) => point.turns >= turns);
  if (after <= 0) return curve.at(after === 0 ? 0 : -1)?.[branch] ?? NaN;
  const a = curve[after - 1]!, b = curve[after]!;
  const step = b.turns - a.turns, t = (turns - a.turns) / step;
  const slope = (at: number) => {
    const before = curve[Math.max(0, at - 1)]!, next = curve[Math.min(curve.length - 1, at + 1)]!;
    return (next[branch] - before[branch]) / (next.turns - before.turns);
  };
  return a[branch] * (1 + 2 * t) * (1 - t) ** 2 + b[branch] * t * t * (3 - 2 * t) + step * (slope(after - 1) * t * (1 - t) ** 2 + slope(after) * t * t * (t - 1));
}

export type Count = { words: string; /** As counted: of the crank where there is a winder. */ count: number; turns: number; torque_Nm: number; reading: number | null };
export type Counted = { ratio: number; steps: Count[]; stop: Count; hook: Count; /** Counts to let out. */ back: number; back_turns: number; /** After the wait. */ launch_torque_Nm: number };

/** Readings of the meter's private scale lie between those of the steps. */
function reading_at(steps: WindAnswer['card']['steps'], torque_Nm: number): number | null {
  const known = steps.flatMap(({ torque_Nm: torque, reading }) => (reading === null ? [] : [{ torque, reading }])).sort((a, b) => a.torque - b.torque);
  if (known.length < 2) return known[0]?.reading ?? null;
  const after = Math.min(known.length - 1, Math.max(1, known.findIndex(({ torque }) => torque >= torque_Nm)));
  const a = known[after - 1]!, b = known[after]!;
  return b.torque === a.torque ? b.reading : a.reading + ((torque_Nm - a.torque) / (b.torque - a.torque)) * (b.reading - a.reading);
}

/**
 * The card in whole turns of what is counted: a crank stops at no part of a turn. A crank of several turns stops short
 * of the turns that are safe, never beyond them.
 */
export function counted({ card, today }: WindAnswer): Counted | null {
  const ratio = card.winder_ratio;
  const as_told = (words: string) => card.steps.find((step) => step.words === words);
  const stop = as_told('stop'), hook = as_told('hook up');
  if (!stop || !hook) return null;
  const at = (step: typeof stop, count: number, branch: Branch): Count => {
    const turns = count * ratio;
    const torque_Nm = step.torque_Nm + torque_at(card.curve, branch, turns) - torque_at(card.curve, branch, step.turns);
    return { words: step.words, count, turns, torque_Nm, reading: step.reading === null ? null : reading_at(card.steps, torque_Nm) };
  };
  const stop_count = ratio > 1 ? Math.floor(stop.turns / ratio + 1e-6) : Math.round(stop.turns / ratio);
  const hook_count = Math.min(stop_count, Math.round(hook.turns / ratio));
  const stopped = at(stop, stop_count, 'torque_winding_Nm'), hooked = at(hook, hook_count, 'torque_unwinding_Nm');
  const way = card.steps.filter((step) => step !== stop && step !== hook).map((step) => at(step, Math.round(step.turns / ratio), 'torque_winding_Nm'));
  return {
    ratio, stop: stopped, hook: hooked, steps: [...way, stopped, hooked],
    back: stop_count - hook_count, back_turns: (stop_count - hook_count) * ratio,
    launch_torque_Nm: hooked.torque_Nm * (today.launch_torque_Nm / hook.torque_Nm),
  };
}

/** The flight's names after its propeller became that of a design; another propeller has another setting. */
export function flown_by(carried: Draft['carried'], { propeller, model }: { propeller: string; model: string }): Draft['carried'] {
  const { setting, ...rest } = carried;
  const same = rest.propeller !== undefined && same_name(rest.propeller, propeller);
  return { ...rest, propeller: same ? rest.propeller : propeller, model, ...(same && setting !== undefined ? { setting } : {}) };
}

/** The flight in hand as wound and hooked up by a card: who flies goes with it, unless another propeller is named. */
export function hooked(draft: Draft, { design, model, card: { rubber } }: WindAnswer, winding: Counted, sure: boolean): Partial<Draft> {
  const { propeller } = draft.carried;
  const own = !propeller || same_name(propeller, design);
  const carried = own ? flown_by(draft.carried, { propeller: design, model }) : draft.carried;
  const wound = Math.round(winding.stop.turns);
  return {
    turns_wound: wound,
    turns_out: wound - Math.round(winding.hook.turns),
    carried: {
      ...carried,
      ...(carried.model === undefined && sure && model ? { model } : {}),
      ...(carried.batch === undefined && rubber ? { batch: rubber } : {}),
      torque_wound_Nm: Number(winding.stop.torque_Nm.toPrecision(4)),
      launch_torque_Nm: Number(winding.launch_torque_Nm.toPrecision(4)),
    },
  };
}

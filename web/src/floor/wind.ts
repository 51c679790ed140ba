// The winding card as the program answers it (POST /api/wind), for which design it is, and what the floor keeps of it.
import type { components } from '../../generated/schema';
import type { DesignDocument } from '../api/types';
import type { Draft, OfCard } from './draft';
import type { Meter, Today } from './remote';
import type { RiskChoice } from './risk';

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

/** On whose scale a card has readings; `mark` changes with the calibration. */
export type MeterOf = { id: string; name: string; mark: string };
export const meter_of = (meter: Meter | null): MeterOf | null => meter && { id: meter.id, name: meter.name, mark: mark_of(meter.meter) };

/**
 * All that a card answers; `key` null: the design is not known here. `wound_to`: mark of the breaks that it is wound by, null
 * where it is the job's share; undefined: not known here, or not yet.
 */
export type Question = { today: Today; winder_ratio: number; meter: MeterOf | null; key: string | null; risk: RiskChoice; wound_to: string | null | undefined };

/** A card as last answered: shown as it is while the program does not answer. `meter`, `risk` and `wound_to` are wanting in cards of older pages. */
export type KeptCard = {
  answer: WindAnswer; today: Today; winder_ratio: number; meter?: MeterOf | null; risk?: RiskChoice; wound_to?: string | null; asked_ms: number; of?: CardOf;
  /** Propellers that fly with it though the design names another; so that a copy without the program knows it. */
  flies?: readonly string[];
};

/** Whether the readings of the card are those of this meter, as it is calibrated now. */
export const reads_on = ({ answer, meter: of }: KeptCard, meter: MeterOf | null): boolean =>
  of === undefined ? meter === null && answer.card.meter_unit === null : of?.id === meter?.id && of?.mark === meter?.mark;

/** Whether the card is the answer to what is entered now. */
export const answers = (kept: KeptCard, { today, winder_ratio, meter, key, risk, wound_to }: Question): boolean =>
  kept.winder_ratio === winder_ratio && JSON.stringify(kept.today) === JSON.stringify(today) && reads_on(kept, meter)
  && (kept.risk ?? 'batch') === risk && (wound_to === undefined || (kept.wound_to ?? null) === wound_to) && (key === null || kept.of?.key === key);

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

export type Count = { words: string; /** As counted: of the crank where there is a winder. */ count: number; turns: number; torque_Nm: number; reading: number | null; /** The reading is past the heaviest weight hung. */ beyond: boolean };
export type Counted = { ratio: number; steps: Count[]; stop: Count; hook: Count; /** Counts to let out. */ back: number; back_turns: number; /** After the wait. */ launch_torque_Nm: number };

/** The card in whole turns of what is counted, as the program has them: rounded down, never past what is safe. */
export function counted({ card, today }: WindAnswer): Counted | null {
  const steps = card.steps.map(({ words, winder_turns: count, turns, torque_Nm, reading, beyond }) => ({ words, count, turns, torque_Nm, reading, beyond }));
  const stop = steps.find(({ words }) => words === 'stop'), hook = steps.find(({ words }) => words === 'hook up');
  // One kept by pages before these told parts of a turn: rather none than one that goes beyond.
  if (!stop || !hook || !steps.every(({ count }) => Number.isInteger(count))) return null;
  return { ratio: card.winder_ratio, steps, stop, hook, back: card.back_off_winder_turns, back_turns: today.back_off_turns, launch_torque_Nm: today.launch_torque_Nm };
}

/** The flight's names after its propeller became that of a design; another propeller has another setting and ballast. */
export function flown_by(carried: Draft['carried'], { propeller, model }: { propeller: string; model: string }): Draft['carried'] {
  const { setting, ballast_kg, ...rest } = carried;
  const same = rest.propeller !== undefined && same_name(rest.propeller, propeller);
  return { ...rest, propeller: same ? rest.propeller : propeller, model, ...(same && setting !== undefined ? { setting } : {}), ...(same && ballast_kg !== undefined ? { ballast_kg } : {}) };
}

/** The motor of the card, where the card is for the one on the winder; one with a record of its own has its size there. */
export function motor_of_card(card: KeptCard | null, flying: { design: Pick<Flyable, 'id'>; sure: boolean } | null, known: boolean): OfCard {
  if (!card || (flying && !(flying.sure && (card.of?.id ?? flying.design.id) === flying.design.id))) return {};
  const { rubber, section_m2, loop_length_m } = card.answer.card;
  return { batch: rubber, ...(known ? {} : { motor_section_m2: section_m2, motor_length_m: loop_length_m }) };
}

/**
 * The flight in hand as wound and hooked up by a card: who flies goes with it, unless another propeller is named. The
 * turns were counted; the card's torques were read by nobody, so they stand as hints, and what an earlier flight read goes.
 */
export function hooked(draft: Draft, { design, model, card: { rubber } }: WindAnswer, winding: Counted, sure: boolean): Partial<Draft> {
  const { propeller } = draft.carried;
  const own = !propeller || same_name(propeller, design);
  const carried = own ? flown_by(draft.carried, { propeller: design, model }) : draft.carried;
  const wound = Math.round(winding.stop.turns);
  const { torque_wound_Nm: _wound, launch_torque_Nm: _launch, ...names } = carried;
  return {
    turns_wound: wound,
    turns_out: wound - Math.round(winding.hook.turns),
    hints: { torque_wound_Nm: winding.stop.torque_Nm, launch_torque_Nm: winding.launch_torque_Nm },
    carried: {
      ...names,
      ...(carried.model === undefined && sure && model ? { model } : {}),
      ...(carried.batch === undefined && rubber ? { batch: rubber } : {}),
    },
  };
}

/** The fields whose reading the card took for that of the sheet. */
export function unchanged({ answer, today }: KeptCard): (keyof Today)[] {
  const changed = answer.changes.map(({ what }) => what as string);
  return (Object.keys(today) as (keyof Today)[]).filter((field) => !changed.includes(field));
}

/** The card asked for later. */
export function newer(a: KeptCard | null, b: KeptCard | null): KeptCard | null {
  if (!a || !b) return a ?? b;
  return a.asked_ms >= b.asked_ms ? a : b;
}

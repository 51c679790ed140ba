// What the program says where it takes no flight, and what the Floor says of its state.
import { count_word } from '../lib/format';
import type { Refused } from '../api/client';
import type { Entry } from './shelf';

/** Why entries are not taken, by id: those that the answer names by their place, "flights[3].flight.notes"; one that was sent alone is meant itself. */
export function not_taken(part: readonly Entry[], error: Refused): Map<string, string> {
  const reasons = new Map<string, string>();
  for (const { field, message } of error.problems) {
    const at = /^flights\[(\d+)\]\.?(?:flight\.)?(.*)$/.exec(field);
    const entry = at ? part[Number(at[1]) - 1] : undefined;
    if (entry && at) reasons.set(entry.flight.id, [reasons.get(entry.flight.id), [at[2], message].filter(Boolean).join(': ')].filter(Boolean).join('; '));
  }
  if (reasons.size === 0 && part.length === 1) reasons.set(part[0]!.flight.id, error.message);
  return reasons;
}

export function words_of_refusal(error: Refused): string {
  const { message = '', remedy = '' } = error.problems[0] ?? {};
  return [message, remedy].filter(Boolean).join('; ');
}

export type Standing = { waiting: number; total: number; unkept: boolean; gone: boolean; locked: boolean; refusal: string };

/** One line: where the flights are, and why they do not go up. "" where all is well. */
export function standing_words({ waiting, total, unkept, gone, locked, refusal }: Standing, with_program: boolean): string {
  const here = waiting > 0 ? `${count_word(waiting)} kept here` : '';
  if (unkept) return 'this browser keeps nothing: save the log as a file';
  if (!with_program) return total === 0 ? '' : 'all kept in this browser';
  if (gone) return ['offline', here].filter(Boolean).join(', ');
  if (locked) return ['the program wants the access code', here].filter(Boolean).join('; ');
  if (refusal) return [`the program says: ${refusal}`, here].filter(Boolean).join('; ');
  return here;
}

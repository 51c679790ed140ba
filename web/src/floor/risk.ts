// How far the winding card winds: to the chance of a break that the builder takes, by the breaks of the batch, or to the job's
// share of breaking turns.
import type { components } from '../../generated/schema';
import type { JobTable } from '../api/types';

/** As the program is asked; its own type knows no quantities typed by hand. */
export type WoundTo = { risk: number | string; needs_breaks?: number; winds: JobTable[] };
type Asked = components['schemas']['WindBreaking'];
export const asked_of = ({ winds, ...to }: WoundTo): Asked => ({ ...to, winds: winds as Asked['winds'] });

/** `batch`: by its breaks where they are enough, else by the job; a number is taken whatever is known. */
export type RiskChoice = 'batch' | 'job' | number;
export const risks = [0.01, 0.02, 0.05, 0.1, 0.2] as const;
/** What Rubber takes where no risk is entered. */
const usual_risk = 0.05;
/** Fewer do not tell how far motors of a batch differ. */
const breaks_needed = 3;

/** Of a batch of the workshop: the risk entered on Rubber, "" where none is, and the motors wound until they broke or held. */
export type BatchBreaks = { risk: string; winds: JobTable[] };

/** Null: to the job's share. `breaks` null: the workshop has no such batch. */
export function wound_to(choice: RiskChoice, breaks: BatchBreaks | null): WoundTo | null {
  if (choice === 'job') return null;
  if (choice !== 'batch') return { risk: choice, winds: breaks?.winds ?? [] };
  return breaks && breaks.winds.length > 0 ? { risk: breaks.risk || usual_risk, needs_breaks: breaks_needed, winds: breaks.winds } : null;
}

/** "1 motor in 20 breaks". */
export const risk_words = (risk: number): string => `1 motor in ${Math.round(1 / risk)} breaks`;

/** As it was kept, or stood in a list: what is no choice any more is the usual one. */
export function choice_from(kept: unknown): RiskChoice {
  const number = Number(kept);
  return kept === 'job' ? 'job' : (risks.find((risk) => risk === number) ?? 'batch');
}

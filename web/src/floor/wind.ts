// The winding card as the program answers it (POST /api/wind), and what the floor keeps of it.
import type { components } from '../../generated/schema';
import type { Today } from './remote';

export type WindAnswer = components['schemas']['Wind'];

/** A card as last answered: shown as it is while the program does not answer. */
export type KeptCard = { answer: WindAnswer; today: Today; winder_ratio: number; asked_ms: number };

/** Whether the card is the answer to what is entered now. */
export const answers = (kept: KeptCard, today: Today, winder_ratio: number): boolean =>
  kept.winder_ratio === winder_ratio && JSON.stringify(kept.today) === JSON.stringify(today);

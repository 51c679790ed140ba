// A motor that broke while winding: a line of the log without a flight, which can be taken back for a while.
import { book } from './book.svelte';
import { after_break, break_of, with_motor_of, type Draft, type OfCard } from './draft';
import { new_id } from './flight';
import { logging } from './logging.svelte';
import { Presses } from './presses';

/** For so long a break that was kept can be taken back. */
const hold_ms = 30000;
const presses = new Presses();
/** The flight in hand before its motor broke. */
let unbroken: Draft | null = null;

/** `turns` null: nobody knows them; `of_card`: what the winding card says of the motor. The id of the line; null: a second press. */
export async function broke(turns: number | null, of_card: OfCard): Promise<string | null> {
  if (!presses.counts('break', 'break', Date.now())) return null;
  // While a flight is in hand the motor that it names is its own, not the one on the winder.
  const { draft, in_hand } = logging;
  const row = break_of(in_hand ? after_break(draft) : draft, turns, new_id(Date.now()), Date.now(), of_card);
  await book.keep_held(row, hold_ms);
  unbroken = in_hand ? null : draft;
  if (!in_hand) logging.change(after_break(draft));
  return row.id;
}

/** False: too late, it has been sent. */
export async function unbreak(id: string): Promise<boolean> {
  if (!(await book.take_out(id))) return false;
  presses.forget();
  if (unbroken?.id === logging.draft.id) logging.change(with_motor_of(unbroken, logging.draft));
  return true;
}

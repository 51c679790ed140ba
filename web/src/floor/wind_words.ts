// The winding card in sentences: in the unit of the builder's torque meter and in turns of the winder that is used.
import { count_word, fixed, minus } from '../lib/format';
import { with_unit, type Scale } from './units';
import { reads_on, torque_at, type Counted, type KeptCard, type MeterOf, type WindAnswer } from './wind';

export type Scales = { torque: Scale; height: Scale };

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/** "182 winder turns", "1 turn". */
export function turns_words(count: number, ratio: number): string {
  const number = fixed(Math.abs(count), 0);
  return `${number}\u00a0${ratio === 1 ? '' : 'winder '}${number === '1' ? 'turn' : 'turns'}`;
}

/** What differs from the sheet, and what to back off for it. */
function back_off(answer: WindAnswer, winding: Counted, learned: boolean): string {
  const alone = answer.changes.filter(({ what }) => what !== 'all');
  // Wound to a chance of a break the turns are not the sheet's, but what is let out of them would be the same on its day.
  const by_risk = typeof answer.card.risk === 'number';
  const sheet = `${by_risk ? 'In air and hall as on the sheet' : 'As on the sheet'}${learned ? ' with what flights taught' : ''}`;
  let text = alone.length === 0 ? sheet : capital(alone.map(({ what, from, to }) => `${what} ${to}, not ${from}`).join('; '));
  const energy = 100 * (answer.changes.at(-1)?.energy_change ?? 0);
  if (Math.abs(energy) >= 0.5) text += `. The motor gives ${fixed(Math.abs(energy), 0)}\u00a0% ${energy < 0 ? 'less' : 'more'}`;
  text += `: back off ${turns_words(winding.back, winding.ratio)}`;
  // Told apart in turns of the motor before the crank rounds them: a turn of the crank may be nothing but rounding.
  const aim = Math.round(answer.card.back_off_aim_turns), planned = Math.round(answer.planned.back_off_turns);
  if (winding.ratio === 1) return aim !== planned && winding.back !== planned ? `${text} where the sheet says ${fixed(planned, 0)}.` : `${text}.`;
  text += ` (${fixed(winding.back_turns, 0)} of the motor${aim === planned ? '' : `; before whole winder turns ${fixed(aim, 0)}, on the sheet ${fixed(planned, 0)}`})`;
  return `${text}.`;
}

export function sentences(answer: WindAnswer, winding: Counted, { torque, height }: Scales, learned: boolean): string[] {
  const { wait_s } = answer.card;
  const hooked = with_unit(winding.hook.torque_Nm, torque), launched = with_unit(winding.launch_torque_Nm, torque);
  const wait = wait_s > 0 ? `, ${launched === hooked ? 'the same' : launched} after the wait of ${fixed(wait_s, 0)}\u00a0s` : '';
  return [
    back_off(answer, winding, learned),
    `Hooked up at ${hooked}${wait}, it tops out ${with_unit(answer.today.under_roof_m, height)} under ${with_unit(answer.roof_m, height)}.`,
  ];
}

/** On which torque meter the readings are, or why those of the card are not shown. */
export function meter_words(kept: KeptCard, meter: MeterOf | null, torque: Scale): string {
  const { meter_unit } = kept.answer.card, of = kept.meter;
  if (meter_unit === null) return '';
  if (reads_on(kept, meter)) return of ? `Readings in ${meter_unit} are those of the torque meter ${of.name}.` : '';
  const before = of && of.id === meter?.id ? ' as it was calibrated before' : '';
  const today = meter && meter.id !== of?.id ? `: ${meter.name} is the meter of the day` : '';
  return `Readings of ${of ? `the torque meter ${of.name}${before}` : 'another torque meter'} are not shown${today}. Torques in ${torque.unit} hold on every meter.`;
}

/** Why the launch torque is another than on the sheet: what the rubber does at the same turns, and the turns that are let out. */
export function why(answer: WindAnswer, { torque }: Scales): string {
  const { planned, today, card, changes } = answer;
  const hook = card.steps.find(({ words }) => words === 'hook up');
  const told = (Nm: number) => fixed(Math.abs(Nm) * torque.factor, torque.digits);
  // Of the flights before whole turns are counted, as the table has them: the crank's rounding is no reason.
  const whole = changes.at(-1)?.launch_torque_change_Nm ?? 0;
  const back = card.back_off_aim_turns - planned.back_off_turns;
  if (!hook || changes.length === 0 || Number(told(whole)) === 0) return '';
  const waited = today.launch_torque_Nm / hook.torque_Nm;
  const at = (turns: number) => torque_at(card.curve, 'torque_unwinding_Nm', turns);
  const by_turns = at(planned.launch_turns - back) - at(planned.launch_turns);
  const turns = waited * by_turns, rubber = whole - turns;
  const degrees = today.temperature_K - planned.temperature_K;
  const parts = [
    ...(Number(told(rubber)) === 0 ? [] : [`at the same turns the ${degrees < 0 ? 'colder' : 'warmer'} rubber gives ${told(rubber)} ${rubber < 0 ? 'less' : 'more'}`]),
    ...(Math.abs(back) < 0.5 ? [] : [`${fixed(Math.abs(back), 0)} turns ${back < 0 ? 'fewer' : 'more'} backed off ${turns < 0 ? 'take' : 'give'} ${told(turns)}${turns < 0 ? ' away' : ' more'}`]),
  ];
  const alone = changes.filter(({ what }) => what !== 'all');
  const shares = alone.length < 2 || Math.abs(back) < 0.5 ? '' : ` Of these turns ${alone.map(({ what, back_off_change_turns: by }) => `${what}${what === 'temperature' ? ' (rubber and air)' : ''} ${Math.round(by) < 0 ? minus : '+'}${fixed(Math.abs(by), 0)}`).join(', ')}.`;
  return `Launch torque ${told(whole)}\u00a0${torque.unit} ${whole < 0 ? 'less' : 'more'} than on the sheet: ${parts.join('; ')}.${shares}`;
}

/** What the program says beside the card, each once. */
export const remarks = ({ notes, today }: WindAnswer): string[] => [...new Set([...today.warnings, ...notes])];

/** What of the card rests on flights. */
export const learned_words = (learned: readonly string[]): string =>
  learned.length === 0 ? '' : `Uses what flights taught: ${learned.map((label) => label.toLowerCase()).join(', ')}${learned.length > 4 ? ` (${count_word(learned.length)} values)` : ''}.`;

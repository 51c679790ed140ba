// The motors of a batch's log as winds of a question about breaking turns, and what is said of each.
import type { LoggedMotor, RubberBreaking } from '../../api/rubber';
import type { JobTable, JobValue } from '../../api/types';

/** Keys of the motors that the builder leaves out: a nick, a bad knot. */
export const left_out_keys = (breaking: JobTable): string[] =>
  Array.isArray(breaking.left_out) ? (breaking.left_out as JobValue[]).filter((key): key is string => typeof key === 'string') : [];

/** The table with one motor of the log left out, or counted again. */
export function with_left_out(breaking: JobTable, key: string, out: boolean): JobTable {
  const { left_out: _before, ...rest } = breaking;
  const keys = left_out_keys(breaking).filter((each) => each !== key);
  if (out) keys.push(key);
  return keys.length === 0 ? rest : { ...rest, left_out: keys as JobValue };
}

/** Those that are sent: turns and size known, not left out. */
export function counted_motors(breaking: JobTable, motors: readonly LoggedMotor[]): LoggedMotor[] {
  const out = left_out_keys(breaking);
  return motors.filter(({ usable, key }) => usable && !out.includes(key));
}

export const logged_wind = ({ motor, end, turns, section, length }: LoggedMotor): JobTable => ({
  turns: turns!, section: section!, length: length!, from_log: true, ...(motor === '' ? {} : { motor }), ...(end === 'broke' ? {} : { broke: false }),
});

type Uncounted = RubberBreaking['uncounted'][number]['why'];

/** Of what was sent, `hand` winds entered by hand before `sent` of the log, that which does not count. */
export function not_counted(answer: RubberBreaking | null, hand: number, sent: readonly LoggedMotor[]): Map<string, Uncounted> {
  return new Map((answer?.uncounted ?? []).flatMap(({ wind, why }) => {
    const motor = sent[wind - 1 - hand];
    return motor ? [[motor.key, why] as const] : [];
  }));
}

/** "broke", "held"; where it broke at turns that nobody noted, what it held before. */
export const end_words = { broke: 'broke', held: 'held', broke_unknown: 'broke later, held' } as const satisfies Record<LoggedMotor['end'], string>;

/** Why one does not count, and what to do. */
export function why_not(motor: LoggedMotor, left_out: boolean, why: Uncounted | undefined): string {
  if (motor.turns === null) return 'not counted: at which turns is not known';
  if (!motor.usable) return `not counted: strip and loop are not known; ${motor.motor === '' ? 'note them in the flight' : `enter motor ${motor.motor} under Motors`}`;
  if (left_out) return 'left out';
  if (why === 'told_twice') return 'entered by hand too: counted once';
  if (why === 'unbelievable') return 'not counted: no motor of its size is wound so far, or breaks so early; correct it on Flights';
  return '';
}

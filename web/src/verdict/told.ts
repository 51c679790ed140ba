// Problems of a question about flights, in words of this page: which propeller's design, which flight.
import type { Problem } from '../api/types';

/** What stands beside a field of the fold. */
export const of_beliefs = ({ field }: Problem): boolean => /^(beliefs|thresholds)\./.test(field);

/** `names`: the propellers whose designs were sent, in that order. */
export function on_page(problems: readonly Problem[], names: readonly string[]): Problem[] {
  return problems.filter((problem) => !of_beliefs(problem)).map((problem) => {
    const job = /^jobs\[(\d+)\]/.exec(problem.file) ?? /^jobs\[(\d+)\]/.exec(problem.field);
    if (job) {
      const field = problem.field.replace(/^jobs\[\d+\]\.?/, '').replace(/^job\./, '');
      return { ...problem, message: `the design of ${names[Number(job[1]) - 1] ?? 'a propeller'}${field ? `, ${field}` : ''}: ${problem.message}` };
    }
    const flight = /^flights\[(\d+)\]\.(?:flight\.)?(.*)$/.exec(problem.field);
    return flight ? { ...problem, message: `flight ${flight[1]}, ${flight[2]}: ${problem.message}` } : problem;
  });
}

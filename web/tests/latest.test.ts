import { describe, expect, it } from 'vitest';
import { Latest } from '../src/lib/latest';

function harness() {
  const sent: number[] = [];
  const arrived: [string, number, boolean][] = [];
  const failed: number[] = [];
  const open: { resolve: (text: string) => void; reject: (error: Error) => void }[] = [];
  const latest = new Latest<number, string>(
    (state) => {
      sent.push(state);
      return new Promise((resolve, reject) => open.push({ resolve, reject }));
    },
    (answer, state, newest) => arrived.push([answer, state, newest]),
    (_error, state) => failed.push(state),
  );
  const settle = () => new Promise((resolve) => setTimeout(resolve, 0));
  return { latest, sent, arrived, failed, open, settle };
}

describe('Latest', () => {
  it('has one request under way and sends the newest state last', async () => {
    const { latest, sent, arrived, open, settle } = harness();
    for (const state of [1, 2, 3, 4]) latest.submit(state);
    expect(sent).toEqual([1]);
    open[0]!.resolve('one');
    await settle();
    expect(sent).toEqual([1, 4]);
    open[1]!.resolve('four');
    await settle();
    expect(arrived).toEqual([['one', 1, false], ['four', 4, true]]);
    expect(latest.busy).toBe(false);
  });

  it('goes on after a failure', async () => {
    const { latest, sent, failed, arrived, open, settle } = harness();
    latest.submit(1);
    latest.submit(2);
    open[0]!.reject(new Error('refused'));
    await settle();
    expect(failed).toEqual([1]);
    expect(sent).toEqual([1, 2]);
    open[1]!.resolve('two');
    await settle();
    expect(arrived).toEqual([['two', 2, true]]);
  });
});

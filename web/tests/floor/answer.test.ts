// Requests that nobody answers, or that something else answers, are told as such.
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { answer, Gone, within } from '../../src/api/client';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

/** As fetch: it ends by its signal only. */
const silent = (signal: AbortSignal) => new Promise<never>((_, reject) => signal.addEventListener('abort', () => reject(signal.reason)));

describe('a request', () => {
  it('without an answer in its time is given up: nobody is there', async () => {
    const asked = answer(silent(within(8000)));
    const told = expect(asked).rejects.toBeInstanceOf(Gone);
    await vi.advanceTimersByTimeAsync(7999);
    expect(await Promise.race([asked.catch(() => 'ended'), Promise.resolve('waits')])).toBe('waits');
    await vi.advanceTimersByTimeAsync(1);
    await told;
  });

  it('that a page answers instead of the program finds nobody there', async () => {
    await expect(answer(Promise.reject(new SyntaxError('Unexpected token <')))).rejects.toBeInstanceOf(Gone);
    await expect(answer(Promise.reject(new TypeError('Failed to fetch')))).rejects.toBeInstanceOf(Gone);
  });
});

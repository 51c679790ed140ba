import { describe, expect, it } from 'vitest';
import { Pages, visible_rows } from '../src/designs/pages.svelte';

const settle = () => new Promise((resolve) => setTimeout(resolve, 0));

function source(total: number) {
  const asked: number[] = [];
  const read = async (offset: number, limit: number) => {
    asked.push(offset);
    return { total, items: Array.from({ length: Math.max(0, Math.min(limit, total - offset)) }, (_, index) => offset + index) };
  };
  return { asked, read };
}

describe('Pages', () => {
  it('asks only for the pieces near what is seen, once each', async () => {
    const { asked, read } = source(10000);
    const pages = new Pages<number>(read);
    await pages.restart(read);
    pages.want(5230, 5310);
    pages.want(5240, 5320);
    await settle();
    expect(asked).toEqual([0, 5200, 5300]);
    expect(pages.row(5250)).toBe(5250);
    expect(pages.row(4000)).toBeUndefined();
  });

  it('drops the answer to a question that was overtaken', async () => {
    let give: (page: { total: number; items: string[] }) => void = () => {};
    const slow = () => new Promise<{ total: number; items: string[] }>((resolve) => (give = resolve));
    const pages = new Pages<string>(slow);
    const first = pages.restart(slow);
    await pages.restart(async () => ({ total: 1, items: ['new'] }));
    give({ total: 2, items: ['old', 'old'] });
    await first;
    expect(pages.total).toBe(1);
    expect(pages.row(0)).toBe('new');
  });
});

describe('visible_rows', () => {
  it('stays inside the list', () => {
    expect(visible_rows(0, 520, 52, 3)).toEqual({ first: 0, last: 2 });
    expect(visible_rows(52 * 100, 520, 52, 10000, 0)).toEqual({ first: 100, last: 110 });
    expect(visible_rows(0, 520, 52, 0)).toEqual({ first: 0, last: -1 });
  });
});

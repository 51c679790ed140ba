import { describe, expect, it } from 'vitest';
import { along, overlap, place_words, spread_apart, text_width, type Box, type Point } from '../../src/charts/labels';

const edges = (middles: number[], sizes: number[]) =>
  middles.map((middle, index) => [middle - sizes[index]! / 2, middle + sizes[index]! / 2] as const).sort((a, b) => a[0] - b[0]);

describe('a line to keep off', () => {
  it('has points nowhere farther apart than asked, through all of its own', () => {
    const line = [{ x: 0, y: 0 }, { x: 30, y: 40 }, { x: 31, y: 40 }];
    const points = along(line, 4);
    for (const each of line) expect(points).toContainEqual(each);
    points.slice(1).forEach((to, at) => expect(Math.hypot(to.x - points[at]!.x, to.y - points[at]!.y)).toBeLessThanOrEqual(4 + 1e-9));
  });
});

describe('labels along an edge', () => {
  it('stay where they are when they do not touch', () =>
    expect(spread_apart([{ at: 10, size: 8 }, { at: 50, size: 8 }], 0, 100)).toEqual([10, 50]));
  it('part evenly around the same place', () =>
    expect(spread_apart([{ at: 50, size: 10 }, { at: 50, size: 10 }], 0, 100)).toEqual([45, 55]));
  it('keep the order of what they name', () => {
    const [a, b, c] = spread_apart([{ at: 52, size: 10 }, { at: 50, size: 10 }, { at: 51, size: 10 }], 0, 100);
    expect(b!).toBeLessThan(c!);
    expect(c!).toBeLessThan(a!);
  });
  it('never overlap and never leave the edge while there is room, for 500 random sets', () => {
    let seed = 7;
    const random = () => (seed = (seed * 16807) % 2147483647) / 2147483647;
    for (let run = 0; run < 500; ++run) {
      const wanted = Array.from({ length: 1 + Math.floor(random() * 6) }, () => ({ at: random() * 140 - 20, size: 8 + random() * 6 }));
      const boxes = edges(spread_apart(wanted, 0, 100), wanted.map((each) => each.size));
      expect(boxes[0]![0]).toBeGreaterThan(-1e-9);
      expect(boxes.at(-1)![1]).toBeLessThan(100 + 1e-9);
      for (let i = 1; i < boxes.length; ++i) expect(boxes[i]![0] - boxes[i - 1]![1]).toBeGreaterThan(-1e-9);
    }
  });
});

describe('words in a plot', () => {
  const bounds: Box = { x: 0, y: 0, width: 200, height: 100 };
  it('do not cover each other', () => {
    const [a, b] = place_words([{ x: 100, y: 50, width: 60, height: 14 }, { x: 104, y: 52, width: 60, height: 14 }], [], [], bounds);
    expect(overlap(a!, b!)).toBe(0);
  });
  it('keep off the line', () => {
    const line: Point[] = Array.from({ length: 101 }, (_, i) => ({ x: i * 2, y: 40 - i * 0.3 }));
    const [box] = place_words([{ x: 100, y: 25, width: 50, height: 14 }], line, [], bounds);
    const hit = line.some((at) => at.x >= box!.x && at.x <= box!.x + box!.width && at.y >= box!.y && at.y <= box!.y + box!.height);
    expect(hit).toBe(false);
  });
  it('stay inside at a corner', () => {
    const [box] = place_words([{ x: 198, y: 2, width: 50, height: 14 }], [], [], bounds);
    expect(overlap(box!, bounds)).toBe(50 * 14);
  });
  it('keep off handles', () => {
    const handle: Box = { x: 91, y: 41, width: 18, height: 18 };
    const [box] = place_words([{ x: 100, y: 50, width: 60, height: 14 }], [], [handle], bounds);
    expect(overlap(box!, handle)).toBe(0);
  });
});

describe('width of a text', () => {
  it('grows with the text and with the size', () => {
    expect(text_width('let-down', 12)).toBeGreaterThan(text_width('let', 12));
    expect(text_width('roof', 24)).toBeCloseTo(2 * text_width('roof', 12), 9);
  });
});

describe('two words near two points', () => {
  it('each stand nearer to their own', () => {
    const bounds: Box = { x: 0, y: 0, width: 240, height: 120 };
    const words = [{ x: 120, y: 60, width: 76, height: 14 }, { x: 190, y: 58, width: 70, height: 14 }];
    const taken = words.map(({ x, y }) => ({ x: x - 9, y: y - 9, width: 18, height: 18 }));
    const line: Point[] = Array.from({ length: 60 }, (_, i) => ({ x: i * 4, y: 60 }));
    const boxes = place_words(words, line, taken, bounds);
    const away = (box: Box, at: Point) => Math.hypot(Math.max(box.x - at.x, 0, at.x - box.x - box.width), Math.max(box.y - at.y, 0, at.y - box.y - box.height));
    expect(away(boxes[0]!, words[0]!)).toBeLessThan(away(boxes[0]!, words[1]!));
    expect(away(boxes[1]!, words[1]!)).toBeLessThan(away(boxes[1]!, words[0]!));
  });
});

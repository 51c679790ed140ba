// Where words go so that they cover neither each other nor the lines.

/** Width of a text in the page's sans face, in pixels, without asking the browser. Within 8 %. */
export function text_width(text: string, size: number): number {
  let em = 0;
  for (const letter of text) {
    if (/[0-9]/.test(letter)) em += 0.497;
    else if (/[ilj.,:;'|!\u202f]/.test(letter)) em += 0.26;
    else if (/[mwMW]/.test(letter)) em += 0.83;
    else if (/[A-Z+\u2212=±°]/.test(letter)) em += 0.58;
    else if (/[ \u00a0tfr()·/-]/.test(letter)) em += 0.33;
    else em += 0.51;
  }
  return em * size;
}

export type Wanted = { at: number; size: number };

/**
 * Middles of boxes along a line, each as near to `at` as the others allow, in the given order of
 * `at`, none overlapping, all within [low, high] when there is room. Clusters move together: the
 * mean displacement of each is least.
 */
export function spread_apart(wanted: readonly Wanted[], low: number, high: number, gap = 0): number[] {
  const order = wanted.map((_, index) => index).sort((a, b) => wanted[a]!.at - wanted[b]!.at);
  type Cluster = { items: number[]; size: number; start: number; pull: number };
  const place = (cluster: Cluster) => {
    const ideal = cluster.pull / cluster.items.length;
    return Math.max(low, Math.min(high - cluster.size, ideal));
  };
  const clusters: Cluster[] = [];
  for (const index of order) {
    const { at, size } = wanted[index]!;
    let next: Cluster = { items: [index], size, start: 0, pull: at - size / 2 };
    next.start = place(next);
    for (;;) {
      const before = clusters.at(-1);
      if (!before || before.start + before.size + gap <= next.start + 1e-9) break;
      clusters.pop();
      // Each item of the later cluster wants the joint start to be earlier by what stands before it.
      const shift = before.size + gap;
      next = {
        items: [...before.items, ...next.items],
        size: before.size + gap + next.size,
        start: 0,
        pull: before.pull + next.pull - shift * next.items.length,
      };
      next.start = place(next);
    }
    clusters.push(next);
  }
  const middles = new Array<number>(wanted.length).fill(0);
  for (const cluster of clusters) {
    let from = cluster.start;
    for (const index of cluster.items) {
      const { size } = wanted[index]!;
      middles[index] = from + size / 2;
      from += size + gap;
    }
  }
  return middles;
}

export type Box = { x: number; y: number; width: number; height: number };
export type Point = { x: number; y: number };
/** A text beside a point; `fixed` ones keep their place and the others go round them. */
export type Word = { x: number; y: number; width: number; height: number };

/** A line through points as points close enough together for words to keep off it. */
export function along(points: readonly Point[], step = 4): Point[] {
  return points.flatMap((to, at) => {
    const from = points[at - 1];
    if (!from) return [to];
    const count = Math.max(1, Math.ceil(Math.hypot(to.x - from.x, to.y - from.y) / step));
    return Array.from({ length: count }, (_, part) => ({ x: from.x + ((to.x - from.x) * (part + 1)) / count, y: from.y + ((to.y - from.y) * (part + 1)) / count }));
  });
}

export function overlap(a: Box, b: Box): number {
  const wide = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
  const tall = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
  return wide > 0 && tall > 0 ? wide * tall : 0;
}

/** Distance from a box to a point outside it. */
function away_from(box: Box, at: Point): number {
  const dx = Math.max(box.x - at.x, 0, at.x - box.x - box.width);
  const dy = Math.max(box.y - at.y, 0, at.y - box.y - box.height);
  return Math.hypot(dx, dy);
}

/** The eight places round a point, the usual ones first. */
export function places_round(word: Word, away: number): Box[] {
  const { x, y, width, height } = word;
  const middle_x = x - width / 2;
  const middle_y = y - height / 2;
  const up = y - away - height;
  const down = y + away;
  const right = x + away;
  const left = x - away - width;
  return [
    [right, up], [middle_x, up], [left, up], [right, middle_y], [left, middle_y], [right, down], [middle_x, down], [left, down],
  ].map(([bx, by]) => ({ x: bx!, y: by!, width, height }));
}

/**
 * Boxes for words beside their points: each takes the place round its point, nearer ones first, with
 * the least overlap with points of lines, words already set, and the edge of `bounds`.
 */
export function place_words(words: readonly Word[], lines: readonly Point[], taken: readonly Box[], bounds: Box): Box[] {
  const set: Box[] = [...taken];
  return words.map((word) => {
    let best: Box | null = null;
    let least = Infinity;
    for (const away of [6, 14, 24, 36]) {
      // A place that is free cannot be bettered farther away.
      if (least <= away * 2) break;
      for (const box of places_round(word, away)) {
        const outside = box.width * box.height - overlap(box, bounds);
        let cost = outside * 6 + away * 2;
        // A word nearer to another's point than to its own would be read as the other's.
        const own = away_from(box, word);
        for (const other of words) if (other !== word && away_from(box, other) < own) cost += 900;
        for (const other of set) cost += overlap(box, other) * 30;
        for (const at of lines) {
          if (at.x >= box.x - 1 && at.x <= box.x + box.width + 1 && at.y >= box.y - 1 && at.y <= box.y + box.height + 1) cost += 40;
        }
        if (cost < least - 1e-9) {
          least = cost;
          best = box;
        }
      }
    }
    const box = best ?? { x: word.x, y: word.y, width: word.width, height: word.height };
    set.push(box);
    return box;
  });
}

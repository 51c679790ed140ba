// Where the odds stand on their line, and what is written there. Shares of the line, 0 at its left end.

export type OddsLine = {
  /** What is told at the mark: the propeller whose odds they are. */
  key: string;
  letter: string;
  probability: number;
  at: number;
  history: number[];
};

/** One line for two propellers, from the other's end to the first one's; else one for each, from nought. */
export function odds_lines(propellers: readonly { letter: string; name: string; probability_best: number }[], history: readonly { probability_best: readonly number[] }[]): OddsLine[] {
  const shown = propellers.length === 2 ? propellers.slice(0, 1) : propellers;
  return shown.map(({ name, letter, probability_best }, index) => ({
    key: name,
    letter,
    probability: probability_best,
    at: share(probability_best),
    history: history.map(({ probability_best: odds }) => share(odds[index] ?? NaN)).filter(Number.isFinite),
  }));
}

const share = (odds: number): number => Math.min(1, Math.max(0, odds));

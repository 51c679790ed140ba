// The winder that the Floor counts with, for sheets that are printed elsewhere.
export const setup_key = 'propwright-floor-setup';

/** Turns of the motor for one of the crank, as set on the Floor; 1 where none is. */
export function winder_ratio(): number {
  try {
    const { winder_ratio: ratio } = JSON.parse(localStorage.getItem(setup_key) ?? '{}') as { winder_ratio?: unknown };
    return typeof ratio === 'number' && ratio >= 0.1 && ratio <= 100 ? ratio : 1;
  } catch {
    return 1;
  }
}

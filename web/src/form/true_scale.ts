// Sizes on the screen. A browser's millimetre is a guess; a ruler held to the screen tells the truth. What is
// kept is dots of the screen a millimetre: zooming the page changes the pixels of a dot, not the dots.
import { screen_limits, settings } from '../lib/settings.svelte';

/** CSS says 96 pixels to the inch, whatever the screen. */
export const nominal_px_per_mm = 96 / 25.4;

export function px_per_mm(dots_per_mm: number | null, dots_per_px: number): number {
  return dots_per_mm === null ? nominal_px_per_mm : dots_per_mm / dots_per_px;
}

/** A bar of this many pixels measures this many millimetres on the screen. */
export function measured(bar_px: number, measured_mm: number, dots_per_px: number): number | null {
  const dots = (bar_px * dots_per_px) / measured_mm;
  return dots >= screen_limits.low && dots <= screen_limits.high ? dots : null;
}

/** The bar of the ruler test, mm. */
export const bar_mm = { metric: 100, inch: 101.6 } as const;

export const calibrated = (): boolean => settings.dots_per_mm !== null;

// Geometry of a blade for drawing and dragging. The definitions only: pitch is 2 pi r tan(angle).

const radians = Math.PI / 180;

/** Pitch at a radius whose blade stands at this angle from the disc plane. */
export function pitch_of(radius_m: number, angle_deg: number): number {
  return 2 * Math.PI * radius_m * Math.tan(angle_deg * radians);
}

/** Angle from the disc plane of a blade with this pitch at this radius. */
export function angle_of(radius_m: number, pitch_m: number): number {
  return Math.atan2(pitch_m, 2 * Math.PI * radius_m) / radians;
}

/**
 * Pitch to set so that a blade made on a helical form is turned by `turn_deg`. With a stated gauge
 * radius the angle there grows by the turn. Without one, the pitch is set where the turned blade
 * stands at 45 degrees: the form's angle there is 45 degrees less the turn.
 */
export function pitch_after_turn(form_pitch_m: number, turn_deg: number, gauge_radius_m: number | null): number {
  if (gauge_radius_m === null) return form_pitch_m / Math.tan((45 - turn_deg) * radians);
  return pitch_of(gauge_radius_m, angle_of(gauge_radius_m, form_pitch_m) + turn_deg);
}

/**
 * Roundness that gives the outline another chord at the place of the handle. The outer part of the
 * outline falls from the widest chord as a power law whose exponent is the roundness.
 */
export function roundness_for(roundness: number, chord_m: number, widest_m: number, wanted_m: number): number {
  const now = Math.log(chord_m / widest_m);
  const then = Math.log(Math.min(widest_m * 0.995, Math.max(widest_m * 0.02, wanted_m)) / widest_m);
  return now === 0 ? roundness : (roundness * then) / now;
}

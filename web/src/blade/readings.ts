// Readings on a propeller in hand, as typed and as sent.
import type { Readings as SentReadings } from '../api/types';

export type Row = { radius: string; value: string };
export type Readings = { diameter: string; revs: string; angles: Row[]; chords: Row[] };

const bare = /^[-+]?(?:\d+\.?\d*|\.\d+)$/;

/** Bare numbers get the shown unit; rows not fully filled in are left out. */
export function complete_readings(readings: Readings, complete: (text: string, path: string) => string): SentReadings {
  const filled = (rows: Row[]) => rows.filter((row) => row.radius.trim() !== '' && row.value.trim() !== '');
  const revs = readings.revs.trim();
  const chords = filled(readings.chords);
  return {
    diameter: complete(readings.diameter, 'propeller.diameter'),
    angles: filled(readings.angles).map((row) => ({
      radius: complete(row.radius, 'propeller.measured_angle.radius'),
      angle: complete(row.value, 'propeller.measured_angle.angle'),
    })),
    ...(chords.length > 0
      ? { chords: chords.map((row) => ({ radius: complete(row.radius, 'propeller.measured_chord.radius'), chord: complete(row.value, 'propeller.measured_chord.chord') })) }
      : {}),
    ...(revs === '' ? {} : { counted_revs: bare.test(revs) ? `${revs} rpm` : revs }),
  };
}

/** Enough to ask: a length and one angle. */
export function ready(readings: SentReadings): boolean {
  return (readings.diameter ?? '') !== '' && readings.angles.length > 0;
}

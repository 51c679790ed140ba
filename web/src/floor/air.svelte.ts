// The air and the roof of today, as read in the hall: one and the same for the winding card and for the flights. Outlasts a
// reload, not the day.
import type { Problem } from '../api/types';
import { local_time } from './flight';
import type { Today } from './remote';
import { setup } from './setup.svelte';
import { store, stored } from './storage';
import { with_unit, type Measure, type Scale } from './units';

export const air_fields = ['temperature', 'humidity', 'pressure', 'roof'] as const;
export type AirField = (typeof air_fields)[number];
/** SI. */
export type Air = Partial<Record<AirField, number>>;
/** `left`: not asked for on that day. */
type DaysAir = { day: string; values: Air; left?: boolean };

const key = 'propwright-floor-air';
export const column_of_air = { temperature: 'temperature_K', humidity: 'humidity', pressure: 'pressure_Pa', roof: 'roof_m' } as const;
const measure_of_air: Record<AirField, Measure> = { temperature: 'temperature', humidity: 'humidity', pressure: 'pressure', roof: 'height' };
/** As the program takes them; asked of it wherever it answers. */
const ranges: Record<AirField, readonly [number, number]> = { temperature: [253.15, 323.15], humidity: [0, 1], pressure: [60000, 110000], roof: [2, 120] };
/** As the program reads units. */
const unit_words: Record<string, string> = { '°C': 'degC', '°F': 'degF', hPa: 'hPa', inHg: 'inHg', '%': '%', m: 'm', ft: 'ft' };

const day_of_ms = (ms: number): string => local_time(ms).slice(0, 10);
const day_now = (): string => day_of_ms(Date.now());

/** What the program is asked, as text with units. In full: what is rounded for the eye is no other value than the sheet's. */
export function today_of(values: Air, scale: (field: AirField) => Scale): Today {
  const today: Today = {};
  for (const field of air_fields) {
    const value = values[field], { factor, offset, unit } = scale(field);
    if (value !== undefined) today[field] = `${Number((value * factor + offset).toPrecision(10))} ${unit_words[unit] ?? unit}`;
  }
  return today;
}

class DayAir {
  #of = $state.raw<DaysAir>({ day: day_now(), values: {} });
  values = $derived(this.#of.values);
  /** "2026-11-21": today, as of the last launch or look at the page. */
  day = $derived(this.#of.day);
  /** Nobody told the air of today yet, nor said that it stays unknown. */
  wanted = $derived(!this.#of.left && Object.keys(this.values).length === 0);
  today = $derived<Today>(today_of(this.values, (field) => this.scale(field)));

  begin(taken: { made_at: string; air: Air } | null): void {
    const kept = stored(key) as Partial<DaysAir> | null;
    if (kept?.values && kept.day === day_now()) this.#of = { day: kept.day, values: kept.values, left: kept.left === true };
    else if (taken && day_of_ms(Date.parse(taken.made_at)) === day_now()) this.#of = { day: day_now(), values: taken.air };
  }

  /** Today; on another day than before nothing of its air is known. */
  turn(): string {
    const day = day_now();
    if (this.#of.day !== day) this.#keep({ day, values: {} });
    return day;
  }

  enter(field: AirField, value: number | null): void {
    const values = { ...this.values };
    if (value === null) delete values[field];
    else values[field] = value;
    this.#keep({ ...this.#of, values });
  }

  /** What is known besides, as of the last flight of the day. */
  add(values: Air): void {
    const all = { ...values, ...this.values };
    if (Object.keys(all).length > Object.keys(this.values).length) this.#keep({ ...this.#of, values: all });
  }

  leave(): void {
    this.#keep({ ...this.#of, left: true });
  }

  scale(field: AirField): Scale {
    return setup.scale(measure_of_air[field]);
  }

  /** A value beyond what the program takes; where it answers, it is asked instead. */
  out_of_range(field: AirField): Problem[] {
    const value = this.values[field], range = ranges[field];
    if (value === undefined || (value >= range[0] && value <= range[1])) return [];
    const scale = this.scale(field);
    return [{ file: '', line: null, field, value: '', message: 'the value is out of range', allowed: range.map((bound) => with_unit(bound, scale)).join(' to '), remedy: 'check the number and its unit' }];
  }

  #keep(of: DaysAir): void {
    this.#of = of;
    store(key, of);
  }
}

export const air = new DayAir();

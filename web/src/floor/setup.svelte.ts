// What the floor is set up with: the program behind it, the units, the winder, the torque meter of the day, and the names
// that the workshop offers. Outlasts a reload.
import type { Profile } from '../api/types';
import type { Meter, Names, Remote } from './remote';
import { choice_from, type RiskChoice } from './risk';
import { store, stored } from './storage';
import { scale_of, torque_units, type Measure, type Scale, type TorqueUnit } from './units';
import type { Choices } from './wind';
import { setup_key } from './winder';

export type Setup = {
  profile: Profile;
  /** Follows the other units until one is chosen. */
  torque_unit: TorqueUnit;
  unit_chosen: boolean;
  winder_ratio: number;
  meter_id: string | null;
  /** As last known: the program may be away. */
  meter: Meter | null;
  /** How far to wind. */
  risk: RiskChoice;
  /** Which design a propeller flies with, as chosen on Wind. */
  choices: Choices;
};
export type SetupTaken = Pick<Setup, 'profile' | 'torque_unit' | 'winder_ratio' | 'meter'> & { names: Names; /** Pages saved by an older program have none. */ risk?: RiskChoice };

const usual_torque: Record<Profile, TorqueUnit> = { metric: 'mN·m', inch: 'in-oz' };

/** As this browser kept it, else as a page saved as a file took it along. `units`: those of the pages, where they are known. */
export function setup_of(kept: Partial<Setup> | null, taken: SetupTaken | null, units: Profile | null): Setup {
  const profile = units ?? kept?.profile ?? 'metric';
  // Spelt "in·oz" by pages before this one.
  const chosen = kept?.unit_chosen ? torque_units.find((unit) => unit === kept.torque_unit?.replace('in·oz', 'in-oz')) : undefined;
  return {
    profile: taken?.profile ?? profile,
    torque_unit: chosen ?? taken?.torque_unit ?? usual_torque[profile],
    unit_chosen: chosen !== undefined || taken !== null,
    winder_ratio: kept?.winder_ratio ?? taken?.winder_ratio ?? 1,
    // A file taken to the hall has the meter that its card was made with, and no list of others.
    meter_id: (taken ? taken.meter?.id : kept?.meter_id) ?? null,
    meter: (taken ? taken.meter : kept?.meter) ?? null,
    // In a file taken to the hall nobody works it out anew.
    risk: choice_from((taken ?? kept)?.risk),
    choices: kept?.choices ?? {},
  };
}

class FloorSetup {
  now = $state.raw<Setup>(setup_of(null, null, null));
  /** Null in the file taken to the hall. */
  remote = $state.raw<Remote | null>(null);
  /** Of the workshop; null until they are known. */
  meters = $state.raw<Meter[] | null>(null);
  names = $state.raw<Names>({ propellers: [], motors: [] });

  begin(taken: SetupTaken | null, units: Profile | null): void {
    this.now = setup_of(stored(setup_key) as Partial<Setup> | null, taken, units);
    if (taken) this.names = taken.names;
  }

  change(change: Partial<Setup>): void {
    const torque_unit = change.profile && !this.now.unit_chosen ? usual_torque[change.profile] : this.now.torque_unit;
    const now = { ...this.now, torque_unit, ...change };
    this.now = { ...now, meter: (this.meters ?? [now.meter]).find((meter) => meter?.id === now.meter_id) ?? null };
    store(setup_key, this.now);
  }

  /** Only one that the workshop has is sent with a flight: another file may be open there by now. */
  get meter_id_sent(): string | null {
    return this.meters && this.now.meter ? this.now.meter.id : null;
  }

  /** What the workshop has to offer for a flight: names, and the torque meters. */
  read_names(): void {
    this.remote?.names().then((names) => (this.names = names), () => undefined);
    this.remote?.meters().then((meters) => this.#read_meters(meters), () => undefined);
  }

  /** The meter of the day as it is calibrated now; null where the workshop that is open has none of that id. */
  #read_meters(meters: Meter[]): void {
    this.meters = meters;
    const { meter, meter_id } = this.now;
    if (JSON.stringify(meters.find(({ id }) => id === meter_id) ?? null) !== JSON.stringify(meter)) this.change({});
  }

  scale(measure: Measure): Scale {
    return scale_of(measure, this.now.profile, this.now.torque_unit);
  }
}

export const setup = new FloorSetup();

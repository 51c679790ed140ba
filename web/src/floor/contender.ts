// What is compared: a propeller, or, where it flew at several settings, each of its settings ("P18 at 24°"). The same rule as
// the program's (docs/verdict.md); what tells no setting is not put to one of several.
import type { LoggedFlight } from './flight';

export type Told = Pick<LoggedFlight, 'propeller' | 'setting'>;

/** Two settings are one where only spaces, capitals, "deg", a decimal comma or noughts at the end differ. */
export const setting_key = (setting: string | undefined): string =>
  (setting ?? '')
    .toLowerCase()
    .replace(/[\s\u00a0\u202f]+/gu, '')
    .replace(/(\d),(?=\d)/g, '$1.')
    .replace(/(\d)deg(?:rees?)?/g, '$1°')
    .replace(/\d+\.\d*/g, (number) => number.replace(/0+$/, '').replace(/\.$/, ''));

/** Of each flight the name of its contender; undefined where its propeller flew at several settings and it tells none. */
export function named_by(flights: readonly Told[]): (flight: Told) => string | undefined {
  const of = new Map<string, Map<string, string>>();
  for (const { propeller, setting } of flights) {
    if (!propeller) continue;
    const settings = of.get(propeller) ?? new Map<string, string>();
    of.set(propeller, settings);
    const key = setting_key(setting);
    // The oldest writing stands: lists have the latest flight first or last, so the shortest is taken, which does not hang on that.
    const known = settings.get(key);
    if (key && setting && (known === undefined || setting.length < known.length || (setting.length === known.length && setting < known))) settings.set(key, setting.trim());
  }
  return ({ propeller, setting }) => {
    if (!propeller) return undefined;
    const settings = of.get(propeller);
    if (!settings || settings.size < 2) return propeller;
    const told = settings.get(setting_key(setting));
    return told === undefined ? undefined : `${propeller} at ${told}`;
  };
}

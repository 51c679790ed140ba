// Parts of a propeller are called after it: "P14, blade A".

const made_with = /^.*, ((?:new )?blade [AB]|hub|weights)$/s;

/** The part's name with its propeller's present one; a name of its own stays. */
export function present_name(part: string, propeller: string): string {
  const word = made_with.exec(part.trim())?.[1];
  return word === undefined || propeller.trim() === '' ? part : `${propeller.trim()}, ${word}`;
}

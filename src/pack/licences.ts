// What a licence allows, for photos that are handed on.

/** A licence that has an identifier of SPDX (spdx.org/licenses), with its full name there. */
const NAMES: Readonly<Record<string, string>> = {
  'CC0-1.0': 'Creative Commons Zero v1.0 Universal',
  'CC-BY-3.0': 'Creative Commons Attribution 3.0 Unported',
  'CC-BY-4.0': 'Creative Commons Attribution 4.0 International',
  'CC-BY-SA-3.0': 'Creative Commons Attribution Share Alike 3.0 Unported',
  'CC-BY-SA-4.0': 'Creative Commons Attribution Share Alike 4.0 International',
  'CC-BY-ND-4.0': 'Creative Commons Attribution No Derivatives 4.0 International',
  'CC-BY-NC-4.0': 'Creative Commons Attribution Non Commercial 4.0 International',
  'CC-BY-NC-ND-4.0': 'Creative Commons Attribution Non Commercial No Derivatives 4.0 International',
  'CC-BY-NC-SA-4.0': 'Creative Commons Attribution Non Commercial Share Alike 4.0 International',
  'PDDL-1.0': 'Open Data Commons Public Domain Dedication & License 1.0',
  'ODC-By-1.0': 'Open Data Commons Attribution License v1.0',
};

/** Licences under which anybody may hand on an unchanged copy, for money too. Their texts say so; whoever does names the credit. */
const FREE = /^(?:CC0-1\.0|CC-BY(?:-SA|-ND)?-\d\.\d|PDDL-1\.0|ODC-By-1\.0)$/u;

/** Why a photo under a licence is not handed on; undefined where it may be. */
export function whyNotHandedOn(licence: string): string | undefined {
  if (FREE.test(licence)) return undefined;
  if (/^CC-BY-NC/u.test(licence))
    return `${licence} does not allow commercial use, and who hands this on is not known`;
  return `its licence, "${licence}", is none that is known to allow handing on copies`;
}

/** A licence as an address, with its name; a plain sentence has neither. */
export interface NamedLicence {
  readonly address: string;
  readonly name: string;
}

/** @param licence SPDX identifier, address, or a plain sentence */
export function namedLicence(licence: string): NamedLicence | undefined {
  if (/^https?:\/\/\S+$/u.test(licence)) return { address: licence, name: licence };
  const name = NAMES[licence];
  return name === undefined ? undefined : { address: `https://spdx.org/licenses/${licence}`, name };
}

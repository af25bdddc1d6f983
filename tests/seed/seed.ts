import { fileURLToPath } from 'node:url';
import { readFiles } from '../../src/dossier/read-files.ts';
import { type Catalogue, COLLECTIONS, type Part, partIdOf } from '../../src/model/catalogue.ts';
import {
  type Component,
  type Device,
  type Dossier,
  deviceIdOf,
  type Identification,
  specimenIdOf,
} from '../../src/model/dossier.ts';
import { type Quantity, valueIn } from '../../src/model/quantity.ts';
import { currentIdentifications, type LabelWeights, labelWeights } from '../../src/state/labels.ts';

/** The demo archive as its files say it, read once for all tests of this folder. */
const read = readFiles([fileURLToPath(new URL('../../seed-data', import.meta.url))]);

export const problems = read.problems;
export const documents = read.documents;
export const dossiers: readonly Dossier[] = documents.flatMap((one) =>
  one.kind === 'dossier' ? [one.dossier] : [],
);

const catalogues: readonly Catalogue[] = documents.flatMap((one) =>
  one.kind === 'catalogue' ? [one.catalogue] : [],
);
export const catalogue = Object.fromEntries(
  COLLECTIONS.map((collection) => [collection, catalogues.flatMap((one) => one[collection] as unknown[])]),
) as unknown as Pick<Catalogue, (typeof COLLECTIONS)[number]>;

export const parts: ReadonlyMap<string, Part> = new Map(
  catalogue.parts.map((part) => [partIdOf(part), part] as const),
);
export const devices: ReadonlyMap<string, Device> = new Map(
  dossiers.flatMap(({ device }) => (typeof device === 'string' ? [] : [[device.id, device] as const])),
);

/** Release of the device that a dossier is about. */
export function deviceOf(dossier: Dossier): Device {
  const device = devices.get(deviceIdOf(dossier));
  if (!device) throw new Error(`no device for ${specimenIdOf(dossier)}`);
  return device;
}

export function dossierOf(specimenId: string): Dossier {
  const found = dossiers.find((one) => specimenIdOf(one) === specimenId);
  if (!found) throw new Error(`no dossier ${specimenId}`);
  return found;
}

/** A component with what it is taken for. */
export interface Seen {
  readonly component: Component;
  readonly identification: Identification | undefined;
  readonly labels: LabelWeights;
  /** True when it is rather this than not. */
  is(...terms: readonly string[]): boolean;
}

/** Components of a dossier by designator. */
export function seenIn(dossier: Dossier): ReadonlyMap<string, Seen> {
  const identified = currentIdentifications(dossier);
  return new Map(
    dossier.components.map((component) => {
      const identification = identified.get(component.id);
      const labels = labelWeights(component, identification, (id) => parts.get(id)?.categories);
      const is = (...terms: readonly string[]) => terms.some((term) => (labels.get(term) ?? 0) >= 0.5);
      return [component.id, { component, identification, labels, is }] as const;
    }),
  );
}

/** The part a component is settled to be, or undefined. */
export function settledPart(identification: Identification | undefined): Part | undefined {
  const part = identification?.state === 'settled' ? identification.candidates[0].part : undefined;
  return part === undefined ? undefined : parts.get(part);
}

/** A figure of a part in a unit, or undefined when the catalogue does not give it. */
export function figure(part: Part | undefined, name: string, unit: string): number | undefined {
  const value = part?.parameters[name];
  return value === undefined ? undefined : valueIn(value as Quantity, unit);
}

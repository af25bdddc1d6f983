import { type Looks, looksOf, standingAbout, standingFields } from '../classes/looks.ts';
import { type NetClues, netCluesOf } from '../classes/net-clues.ts';
import type { Component, Device } from '../model/dossier.ts';
import { type MarkingText, parseMarking } from '../model/marking.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { neighboursOf } from './neighbours.ts';

/** Everything the bench knows about one component that bears on what it is. */
export interface Sighting extends Looks {
  readonly component: string;
  readonly marking: MarkingText | undefined;
  readonly side: 'top' | 'bottom' | undefined;
  /** What it is connected to: the category where known, and the bus. */
  readonly neighbours: readonly { readonly category: string | undefined; readonly bus: string | undefined }[];
  /** What its nets say; undefined where none reaches it. */
  readonly nets?: NetClues | undefined;
  readonly deviceMaker: string;
  /** Who opened the specimen and read its markings; undefined where nobody in particular did. */
  readonly reader?: string | undefined;
  readonly released: string;
}

/**
 * Gathers what was seen of a component: the fields of the dossier and the observations about it alone, without those
 * that a later one corrects. Of several readings of one thing the most complete counts, whatever the order in which
 * they were recorded.
 */
export function sightingOf(specimen: OpenedSpecimen, component: Component, device: Device): Sighting {
  const looks = looksOf(specimen, component);
  const nets = netCluesOf(specimen, component, looks);
  const read = standingAbout(specimen, component.id).flatMap(({ kind, marking }) =>
    kind === 'marking' && marking !== undefined ? [marking] : [],
  );
  const { marking } = standingFields(specimen, component);
  return {
    component: component.id,
    ...looks,
    marking: best([...read, ...(marking === undefined ? [] : [marking])]),
    side: component.side,
    neighbours: neighboursOf(specimen, component.id, nets),
    nets,
    deviceMaker: device.maker,
    reader: specimen.dossier.teardown.by,
    released: device.released,
  };
}

/** The reading with most characters read for certain; ties go to the first in the order of text. */
function best(written: readonly string[]): MarkingText | undefined {
  const certain = (marking: MarkingText) =>
    marking.flat().filter(({ options }) => options.length === 1).length;
  return [...new Set(written)]
    .sort()
    .map(parseMarking)
    .reduce<MarkingText | undefined>((a, b) => (a && certain(a) >= certain(b) ? a : b), undefined);
}

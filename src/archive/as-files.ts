import type {
  Catalogue,
  CatalogueRecord,
  Collection,
  DeviceRecord,
  Publication,
} from '../model/catalogue.ts';
import { designatorOf } from '../model/designator.ts';
import type { Dossier } from '../model/dossier.ts';
import { componentId, parseThingId, thingId } from '../model/ids.ts';
import { isMorePublic, mostPublic } from '../model/visibility.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { dossierOf } from '../state/merge.ts';
import { resolve } from '../state/resolve.ts';
import type { State } from '../state/state.ts';

// What a state holds, as files that import reads.

/** The visible catalogue as one file's content; importing it back changes nothing. */
export function exportCatalogue(state: State): Catalogue {
  const seen: { readonly [C in Collection]: readonly CatalogueRecord<C>[] } = {
    makers: state.makers(),
    productLines: state.productLines(),
    devices: devicesApart(state),
    parts: state.parts(),
    sources: state.sources(),
    publications: state.publications().map((one) => withPrintedSupport(state, one)),
    patterns: state.patterns(),
    feeds: state.feeds(),
    listMappings: state.listMappings(),
  };
  return { caseback: 'catalogue/1', ...seen } as Catalogue;
}

/** Visible dossiers of a device or specimen, or all of them, as they stand now. */
export function* exportDossiers(state: State, id?: string): Generator<Dossier> {
  for (const row of state.specimenRows()) {
    if (id === undefined || row.id === id || row.deviceId === id) yield exportDossier(state, row);
  }
}

/** A dossier as its file has it: that of the first visible specimen of a device describes the device. */
export function exportDossier(state: State, row: SpecimenRow): Dossier {
  const device = state.specimensOf(row.deviceId)[0]?.id === row.id ? state.device(row.deviceId) : undefined;
  return { ...dossierOf(row), device: device ?? row.deviceId };
}

/** Devices of which no dossier says all: those nobody opened, and those that more may see than their specimens. */
function devicesApart(state: State): readonly DeviceRecord[] {
  return [...state.devices()].flatMap(({ id }) => {
    const record = state.deviceRecord(id);
    const shown = mostPublic(state.specimensOf(id));
    return record && (!shown || isMorePublic(record, shown)) ? [record] : [];
  });
}

/** A publication whose claims name components with their boards where two of a dossier have the designator. */
function withPrintedSupport(state: State, publication: Publication): Publication {
  const printed = (id: string): string => {
    const found = parseThingId(id) && resolve(state, id);
    if (found?.kind !== 'Component') return id;
    const { board } = found.thing;
    const designator = designatorOf(found.thing.id);
    const alike = found.opened.dossier.components.filter((one) => designatorOf(one.id) === designator);
    return alike.length < 2 ? id : thingId(found.opened.id, componentId(board, designator));
  };
  const claims = publication.claims.map((one) => ({ ...one, supportedBy: one.supportedBy.map(printed) }));
  return { ...publication, claims };
}

import { cautionsFor, hazardsOfStep, STANDING_HAZARDS } from '../../../model/cautions.ts';
import type { Teardown } from '../../../model/dossier.ts';
import { recordOfId, thingId } from '../../../model/ids.ts';
import { areaOf, cornersOf, extentOf, holesOf, type Point } from '../../../model/outline.ts';
import { keptFile } from '../../../photos/kept.ts';
import { kindCounts } from '../../../questions/devices.ts';
import type { SpecimenRow } from '../../../state/facts.ts';
import { viewOf } from '../context.ts';
import { recalled } from '../marks.ts';
import { findAllInside, findNode, observationsNamed } from '../node.ts';
import type { Resolvers } from '../resolver-types.ts';
import { deviceSource, maybe } from '../sources.ts';
import { enumName, knownTerm } from '../words.ts';
import {
  boardsOf,
  componentsOf,
  identificationsOf,
  linksOf,
  netsOf,
  observationsOf,
  subsystemCountsOf,
  subsystemsOf,
} from './contents.ts';
import {
  boardSource,
  observationSource,
  photoSource,
  type SpecimenSource,
  specimenSource,
  teardownSource,
} from './sources.ts';

const specimenOf = ({ view, opened }: Pick<SpecimenSource, 'view' | 'opened'>) =>
  specimenSource(view, opened);

/** Specimens and what their dossiers hold. */
export const specimens: Resolvers = {
  Query: {
    specimen: (root, { id }, context) => {
      const view = viewOf(root, context);
      return maybe(view, view.specimen(id), specimenSource);
    },
  },
  Specimen: {
    device: ({ view, opened }) => maybe(view, view.device(recordOfId(opened.id)), deviceSource),
    condition: ({ condition }) => enumName(condition),
    visibility: ({ opened }) => enumName(opened.dossier.visibility),
    embargoUntil: ({ opened }) => opened.dossier.embargoUntil,
    recalled,
    teardown: ({ view, opened }) => teardownSource(view, opened),
    boards: boardsOf,
    subsystems: subsystemsOf,
    components: (specimen, args) => componentsOf(specimen, args),
    links: (specimen, args) => linksOf(specimen, args),
    nets: (specimen, args) => netsOf(specimen, args),
    observations: (specimen, args) => observationsOf(specimen, args),
    identifications: (specimen, args) => identificationsOf(specimen, args),
    photos: ({ view, opened }) => opened.dossier.photos.map((photo) => photoSource(view, opened, photo)),
    kindCounts: ({ opened }, { above }) => kindCounts(opened, knownTerm(above, 'above')),
    subsystemCounts: subsystemCountsOf,
  },
  Teardown: {
    specimen: specimenOf,
    recordedFrom: ({ recordedFrom }) => enumName(recordedFrom ?? 'bench'),
    steps: ({ view, opened, steps }) =>
      steps.map((step, index) => ({ ...step, number: index + 1, view, opened })),
    hazards: (teardown) => hazardsOf(teardown),
    cautions: (teardown) => cautionsFor(hazardsOf(teardown)),
  },
  TeardownStep: {
    isDestructive: ({ destructive }) => destructive,
    cautions: (step) => {
      const hazards = hazardsOfStep(step);
      return hazards.length > 0 ? cautionsFor(hazards) : [];
    },
  },
  Board: {
    specimen: specimenOf,
    kind: ({ kind }) => enumName(kind),
    outline: ({ outline }) => (outline ? pointsOf(cornersOf(outline)) : []),
    holes: ({ outline }) => (outline ? holesOf(outline).map((ring) => ({ outline: pointsOf(ring) })) : []),
    length: ({ outline }) => (outline ? extentOf(outline).length : null),
    width: ({ outline }) => (outline ? extentOf(outline).width : null),
    area: ({ outline }) => (outline ? areaOf(outline) : null),
    sides: ({ sides }) => sides.map(enumName),
    fullyInventoried: ({ fullyInventoried }) => fullyInventoried === true,
    fullyTraced: ({ fullyTraced }) => fullyTraced === true,
    stackedOn: ({ view, opened, stackedOn }) => {
      const below = stackedOn === undefined ? undefined : opened.boards.get(stackedOn);
      return below ? boardSource(view, opened, below) : null;
    },
    components: (source, args) => componentsOf(source, args, ({ board }) => board === source.localId),
    links: (source, args) => linksOf(source, args, source.localId),
  },
  Subsystem: {
    specimen: specimenOf,
    kind: ({ kind }) => enumName(kind),
    components: (source, args) => componentsOf(source, args, ({ subsystem }) => subsystem === source.localId),
  },
  PhysicalLink: {
    ends: ({ view, opened, between }) => findAllInside(view, opened, between),
    medium: ({ medium }) => enumName(medium),
    bus: ({ bus }) => enumName(bus),
    pins: ({ pins }) => (pins ?? []).map(([first, second]) => ({ first, second })),
    basis: ({ view, opened, basis }) => observationsNamed(view, opened, basis),
  },
  Observation: {
    specimen: specimenOf,
    kind: ({ kind }) => enumName(kind),
    about: ({ view, opened, about }) => findAllInside(view, opened, about),
    leadsTo: ({ view, opened, leadsTo }) => findAllInside(view, opened, leadsTo ?? []),
    photo: ({ view, opened, photo }) => {
      const found = opened.dossier.photos.find(({ id }) => id === photo);
      return found ? photoSource(view, opened, found) : null;
    },
    cites: ({ view, cites = [] }) => cites.flatMap((id) => findNode(view, id) ?? []),
    corrects: ({ view, opened, corrects }) =>
      corrects === undefined ? null : (observationsNamed(view, opened, [corrects])[0] ?? null),
    correctedBy: ({ view, opened, localId }) =>
      opened.dossier.observations
        .filter(({ corrects }) => corrects === localId)
        .map((one) => observationSource(view, opened, one)),
  },
  Photo: {
    specimen: specimenOf,
    picture: ({ view, opened, localId, sha256 }) => {
      const file = keptFile(view.specimenRow(opened.id) as SpecimenRow, sha256);
      return file ? { ...file, photo: thingId(opened.id, localId) } : null;
    },
    regions: ({ view, opened, localId, sha256, regions }) =>
      regions.map((region) => ({ region, photo: { id: localId, sha256 }, view, opened })),
  },
};

const pointsOf = (corners: readonly Point[]) => corners.map(([x, y]) => ({ x, y }));

function hazardsOf({ hazards, steps }: Teardown): string[] {
  return [...new Set([...STANDING_HAZARDS, ...hazards, ...steps.flatMap((step) => step.hazards)])];
}

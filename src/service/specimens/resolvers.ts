import { cautionsFor, hazardsOfStep, STANDING_HAZARDS } from '../../model/cautions.ts';
import type { Board, Photo, Teardown } from '../../model/dossier.ts';
import { recordOfId } from '../../model/ids.ts';
import { type Context, type Root, viewOf } from '../base/domain.ts';
import { enumName } from '../base/enums.ts';
import { knownTerm } from '../base/terms.ts';
import type { PageArguments } from '../connections/paginate.ts';
import {
  boardsOf,
  componentsOf,
  identificationsOf,
  linksOf,
  observationsOf,
  subsystemsOf,
} from '../contents/contents.ts';
import { deviceSource, maybe } from '../sources/catalogue.ts';
import { kindsCounted, subsystemsCounted } from '../sources/counted.ts';
import { findAllInside, findInside, findNode } from '../sources/find.ts';
import {
  type BoardSource,
  boardSource,
  type LinkSource,
  type ObservationSource,
  observationSource,
  type PhotoSource,
  photoSource,
  type SpecimenSource,
  type SubsystemSource,
  specimenSource,
  type TeardownSource,
  teardownSource,
} from '../sources/specimen.ts';

type ComponentArguments = PageArguments & { readonly category?: string | null };

const specimenOf = ({ view, opened }: Pick<SpecimenSource, 'view' | 'opened'>) =>
  specimenSource(view, opened);

export const resolvers = {
  Query: {
    specimen: (root: Root, { id }: { id: string }, context: Context) => {
      const view = viewOf(root, context);
      return maybe(view, view.specimen(id), specimenSource);
    },
  },
  Specimen: {
    device: ({ view, opened }: SpecimenSource) =>
      maybe(view, view.device(recordOfId(opened.id)), deviceSource),
    condition: ({ condition }: SpecimenSource) => enumName(condition),
    visibility: ({ opened }: SpecimenSource) => enumName(opened.dossier.visibility),
    embargoUntil: ({ opened }: SpecimenSource) => opened.dossier.embargoUntil,
    teardown: ({ view, opened }: SpecimenSource) => teardownSource(view, opened),
    boards: boardsOf,
    subsystems: subsystemsOf,
    components: (specimen: SpecimenSource, args: ComponentArguments) => componentsOf(specimen, args),
    connections: (specimen: SpecimenSource, args: PageArguments) => linksOf(specimen, args),
    observations: (specimen: SpecimenSource, args: PageArguments) => observationsOf(specimen, args),
    identifications: (specimen: SpecimenSource, args: PageArguments) => identificationsOf(specimen, args),
    photos: ({ view, opened }: SpecimenSource) =>
      opened.dossier.photos.map((photo) => photoSource(view, opened, photo)),
    kindCounts: ({ opened }: SpecimenSource, { above }: { above: string }) =>
      kindsCounted(opened, knownTerm(above, 'above')),
    subsystemCounts: ({ opened }: SpecimenSource) => subsystemsCounted(opened),
  },
  Teardown: {
    specimen: specimenOf,
    steps: ({ steps }: TeardownSource) => steps.map((step, index) => ({ ...step, number: index + 1 })),
    hazards: (teardown: TeardownSource) => hazardsOf(teardown),
    cautions: (teardown: TeardownSource) => cautionsFor(hazardsOf(teardown)),
  },
  TeardownStep: {
    cautions: (step: Teardown['steps'][number]) => {
      const hazards = hazardsOfStep(step);
      return hazards.length > 0 ? cautionsFor(hazards) : [];
    },
  },
  Board: {
    specimen: specimenOf,
    kind: ({ kind }: BoardSource) => enumName(kind),
    outline: (board: BoardSource) => cornersOf(board),
    area: (board: BoardSource) => areaOf(board),
    sides: ({ sides }: BoardSource) => sides.map(enumName),
    stackedOn: ({ view, opened, stackedOn }: BoardSource) => {
      const below = stackedOn === undefined ? undefined : opened.boards.get(stackedOn);
      return below ? boardSource(view, opened, below) : null;
    },
    components: (source: BoardSource, args: ComponentArguments) =>
      componentsOf(source, args, ({ board }) => board === source.localId),
    connections: (source: BoardSource, args: PageArguments) => linksOf(source, args, source.localId),
  },
  Subsystem: {
    specimen: specimenOf,
    kind: ({ kind }: SubsystemSource) => enumName(kind),
    components: (source: SubsystemSource, args: ComponentArguments) =>
      componentsOf(source, args, ({ subsystem }) => subsystem === source.localId),
  },
  Link: {
    ends: ({ view, opened, between }: LinkSource) => findAllInside(view, opened, between),
    medium: ({ medium }: LinkSource) => enumName(medium),
    bus: ({ bus }: LinkSource) => enumName(bus),
    basis: ({ view, opened, basis }: LinkSource) => findAllInside(view, opened, basis),
  },
  Observation: {
    specimen: specimenOf,
    kind: ({ kind }: ObservationSource) => enumName(kind),
    about: ({ view, opened, about }: ObservationSource) => findAllInside(view, opened, about),
    leadsTo: ({ view, opened, leadsTo }: ObservationSource) => findAllInside(view, opened, leadsTo ?? []),
    photo: ({ view, opened, photo }: ObservationSource) =>
      photo === undefined ? null : findInside(view, opened, photo),
    cites: ({ view, cites = [] }: ObservationSource) => cites.flatMap((id) => findNode(view, id) ?? []),
    corrects: ({ view, opened, corrects }: ObservationSource) =>
      corrects === undefined ? null : findInside(view, opened, corrects),
    correctedBy: ({ view, opened, localId }: ObservationSource) =>
      opened.dossier.observations
        .filter(({ corrects }) => corrects === localId)
        .map((one) => observationSource(view, opened, one)),
  },
  Photo: {
    specimen: specimenOf,
    regions: ({ view, opened, regions }: PhotoSource) =>
      regions.map((region) => ({ ...region, of: findInside(view, opened, region.of) })),
  },
  PhotoRegion: {
    fragment: ({ xywh }: Photo['regions'][number]) => `xywh=percent:${xywh.join(',')}`,
  },
};

function hazardsOf({ hazards, steps }: Teardown): string[] {
  return [...new Set([...STANDING_HAZARDS, ...hazards, ...steps.flatMap((step) => step.hazards)])];
}

function cornersOf({ outline }: Pick<Board, 'outline'>): { x: number; y: number }[] {
  if (!outline) return [];
  if ('points' in outline) return outline.points.map(([x, y]) => ({ x, y }));
  const { length, width } = outline;
  return [
    { x: 0, y: 0 },
    { x: length, y: 0 },
    { x: length, y: width },
    { x: 0, y: width },
  ];
}

/** Area of the outline by the shoelace formula, mm². */
function areaOf(board: Pick<Board, 'outline'>): number | null {
  const corners = cornersOf(board);
  if (corners.length === 0) return null;
  const twice = corners.reduce((sum, { x, y }, i) => {
    const next = corners[(i + 1) % corners.length];
    return sum + x * next.y - next.x * y;
  }, 0);
  return Math.abs(twice) / 2;
}

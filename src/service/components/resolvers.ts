import { compareDesignators } from '../../model/designator.ts';
import type { Identification } from '../../model/dossier.ts';
import { lineage } from '../../model/taxonomy.ts';
import { type Context, type Root, viewOf } from '../base/domain.ts';
import { enumName } from '../base/enums.ts';
import type { PageArguments } from '../connections/paginate.ts';
import { linksOf, observationsOf } from '../contents/contents.ts';
import { deviceSource, makerSource, maybe, partSource } from '../sources/catalogue.ts';
import { categoryOf, labelOf } from '../sources/category.ts';
import { findAllInside } from '../sources/find.ts';
import {
  boardSource,
  type ComponentSource,
  componentSource,
  type IdentificationSource,
  identificationSource,
  specimenSource,
  subsystemSource,
} from '../sources/specimen.ts';
import { type ComponentsArguments, pageOfComponents } from './list.ts';

export const resolvers = {
  Query: {
    components: (root: Root, args: ComponentsArguments, context: Context) =>
      pageOfComponents(viewOf(root, context), args),
  },
  Component: {
    designator: ({ localId }: ComponentSource) => localId,
    specimen: ({ view, opened }: ComponentSource) => specimenSource(view, opened),
    device: ({ view, opened }: ComponentSource) =>
      maybe(view, view.device(opened.id.slice(0, opened.id.lastIndexOf('/'))), deviceSource),
    board: ({ view, opened, board }: ComponentSource) => {
      const found = board === undefined ? undefined : opened.boards.get(board);
      return found ? boardSource(view, opened, found) : null;
    },
    side: ({ side }: ComponentSource) => enumName(side),
    subsystem: ({ view, opened, subsystem }: ComponentSource) => {
      const found = opened.dossier.subsystems.find(({ id }) => id === subsystem);
      return found ? subsystemSource(view, opened, found) : null;
    },
    inside: ({ view, opened, inside }: ComponentSource) => {
      const found = inside === undefined ? undefined : opened.components.get(inside);
      return found ? componentSource(view, opened, found) : null;
    },
    holds: ({ view, opened, localId }: ComponentSource) =>
      opened.dossier.components
        .filter(({ inside }) => inside === localId)
        .sort((a, b) => compareDesignators(a.id, b.id))
        .map((one) => componentSource(view, opened, one)),
    labels: ({ opened, localId }: ComponentSource) =>
      [...(opened.labels.get(localId) ?? [])]
        .sort((a, b) => b[1] - a[1] || lineage(b[0]).length - lineage(a[0]).length || (a[0] < b[0] ? -1 : 1))
        .map(([term, probability]) => labelOf(term, probability)),
    category: ({ opened, localId }: ComponentSource) => categoryOf(opened, localId),
    identification: ({ view, opened, localId }: ComponentSource) => {
      const current = opened.identified.get(localId);
      return current ? identificationSource(view, opened, current) : null;
    },
    identifications: ({ view, opened, localId }: ComponentSource) =>
      opened.dossier.identifications
        .filter(({ component }) => component === localId)
        .map((one) => identificationSource(view, opened, one)),
    observations: (source: ComponentSource, args: PageArguments) =>
      observationsOf(source, args, source.localId),
    connections: (source: ComponentSource, args: PageArguments) => linksOf(source, args, source.localId),
  },
  Identification: {
    component: ({ view, opened, component }: IdentificationSource) => {
      const found = opened.components.get(component);
      return found ? componentSource(view, opened, found) : null;
    },
    state: ({ state }: IdentificationSource) => enumName(state),
    current: (source: IdentificationSource) => isCurrent(source),
    candidates: ({ view, candidates }: IdentificationSource) =>
      (candidates.length > 1 ? candidates.toSorted((a, b) => b.probability - a.probability) : candidates).map(
        (candidate) => ({ ...candidate, view }),
      ),
    unknown: ({ candidates }: IdentificationSource) => remainder(candidates),
    basis: ({ view, opened, basis }: IdentificationSource) => findAllInside(view, opened, basis),
  },
  Candidate: {
    part: ({ view, part }: CandidateSource) => maybe(view, part ? view.part(part) : undefined, partSource),
    partId: ({ part }: CandidateSource) => part,
    maker: ({ view, part, maker }: CandidateSource) => {
      const id = maker ?? part?.slice(0, part.indexOf('/'));
      return maybe(view, id ? view.maker(id) : undefined, makerSource);
    },
  },
};

type CandidateSource = Identification['candidates'][number] & Pick<IdentificationSource, 'view'>;

/** Whether no later judgement on the same component stands, and this one was not withdrawn. */
function isCurrent({ opened, component, candidates, state, reason }: IdentificationSource): boolean {
  const current = opened.identified.get(component);
  return current?.candidates === candidates && current.state === state && current.reason === reason;
}

/** What the candidates leave to 1, without the dust of binary fractions. */
function remainder(candidates: Identification['candidates']): number {
  const sum = candidates.reduce((total, { probability }) => total + probability, 0);
  return Math.max(0, Number((1 - sum).toFixed(9)));
}

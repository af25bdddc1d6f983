import { compareDesignators } from '../../model/designator.ts';
import type { Identification } from '../../model/dossier.ts';
import { recordOfId } from '../../model/ids.ts';
import { lineage } from '../../model/taxonomy.ts';
import { tidy } from '../../statistics/tidy.ts';
import { type Context, type Root, viewOf } from '../base/domain.ts';
import type { PageArguments } from '../connections/paginate.ts';
import { linksOf, observationsOf } from '../contents/contents.ts';
import { deviceSource, makerSource, maybe, partSource } from '../sources/catalogue.ts';
import { categoryOf, labelOf } from '../sources/category.ts';
import {
  type CandidateSource,
  type ComponentSource,
  candidateSource,
  componentSource,
  type IdentificationSource,
  identificationSource,
} from '../sources/component.ts';
import { findAllInside, findNode } from '../sources/find.ts';
import { boardSource, specimenSource, subsystemSource } from '../sources/specimen.ts';
import { type ComponentsArguments, pageOfComponents } from './list.ts';

export const resolvers = {
  Query: {
    components: (root: Root, args: ComponentsArguments, context: Context) =>
      pageOfComponents(viewOf(root, context), args),
  },
  Component: {
    specimen: ({ view, opened }: ComponentSource) => specimenSource(view, opened),
    device: ({ view, opened }: ComponentSource) =>
      maybe(view, view.device(recordOfId(opened.id)), deviceSource),
    board: ({ view, opened, record }: ComponentSource) => {
      const found = record.board === undefined ? undefined : opened.boards.get(record.board);
      return found ? boardSource(view, opened, found) : null;
    },
    subsystem: ({ view, opened, record }: ComponentSource) => {
      const found = opened.dossier.subsystems.find(({ id }) => id === record.subsystem);
      return found ? subsystemSource(view, opened, found) : null;
    },
    inside: ({ view, opened, record }: ComponentSource) => {
      const found = record.inside === undefined ? undefined : opened.components.get(record.inside);
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
    component: ({ view, opened, record }: IdentificationSource) => {
      const found = opened.components.get(record.component);
      return found ? componentSource(view, opened, found) : null;
    },
    current: ({ opened, record }: IdentificationSource) => opened.identified.get(record.component) === record,
    candidates: (source: IdentificationSource) => {
      const { candidates } = source.record;
      const sorted =
        candidates.length > 1 ? candidates.toSorted((a, b) => b.probability - a.probability) : candidates;
      return sorted.map((candidate) => candidateSource(source, candidate));
    },
    unknown: ({ record }: IdentificationSource) => remainder(record.candidates),
    basis: ({ view, opened, record }: IdentificationSource) => findAllInside(view, opened, record.basis),
    cites: ({ view, record }: IdentificationSource) =>
      (record.cites ?? []).flatMap((id) => findNode(view, id) ?? []),
  },
  Candidate: {
    part: ({ view, partId }: CandidateSource) =>
      maybe(view, partId ? view.part(partId) : undefined, partSource),
    maker: ({ view, partId, makerId }: CandidateSource) => {
      const id = makerId ?? (partId ? recordOfId(partId) : undefined);
      return maybe(view, id ? view.maker(id) : undefined, makerSource);
    },
  },
};

/** What the candidates leave to 1, without the dust of binary fractions. */
function remainder(candidates: Identification['candidates']): number {
  const sum = candidates.reduce((total, { probability }) => total + probability, 0);
  return Math.max(0, tidy(1 - sum));
}

import { compareDesignators } from '../../../model/designator.ts';
import type { Identification } from '../../../model/dossier.ts';
import { recordOfId } from '../../../model/ids.ts';
import { lineage } from '../../../model/taxonomy.ts';
import { componentPins } from '../../../questions/contents.ts';
import { tidy } from '../../../statistics/tidy.ts';
import {
  candidateSource,
  categoryOf,
  componentSource,
  identificationSource,
  labelOf,
} from '../component-sources.ts';
import { viewOf } from '../context.ts';
import { marks } from '../marks.ts';
import { findNode, observationsNamed } from '../node.ts';
import type { Resolvers } from '../resolver-types.ts';
import { deviceSource, makerSource, maybe, partSource } from '../sources.ts';
import { linksOf, observationsOf } from '../specimens/contents.ts';
import { boardSource, specimenSource, subsystemSource } from '../specimens/sources.ts';
import { componentFilter, pageOfComponents } from './list.ts';

/** Components, and what they are identified as. */
export const components: Resolvers = {
  Query: {
    components: async (root, { filter, orderBy, ...page }, context) => {
      const view = viewOf(root, context);
      return pageOfComponents(view, await componentFilter(view, filter, context.signal()), orderBy, page);
    },
  },
  Component: {
    specimen: ({ view, opened }) => specimenSource(view, opened),
    device: ({ view, opened }) => maybe(view, view.device(recordOfId(opened.id)), deviceSource),
    board: ({ view, opened, record }) => {
      const found = record.board === undefined ? undefined : opened.boards.get(record.board);
      return found ? boardSource(view, opened, found) : null;
    },
    pinout: ({ view, opened, record }) =>
      componentPins(view, opened, record).map((pin) => ({ ...pin, view, opened })),
    subsystem: ({ view, opened, record }) => {
      const found = opened.dossier.subsystems.find(({ id }) => id === record.subsystem);
      return found ? subsystemSource(view, opened, found) : null;
    },
    inside: ({ view, opened, record }) => {
      const found = record.inside === undefined ? undefined : opened.components.get(record.inside);
      return found ? componentSource(view, opened, found) : null;
    },
    holds: ({ view, opened, localId }) =>
      opened.dossier.components
        .filter(({ inside }) => inside === localId)
        .sort((a, b) => compareDesignators(a.id, b.id))
        .map((one) => componentSource(view, opened, one)),
    labels: ({ opened, localId }) =>
      [...(opened.labels.get(localId) ?? [])]
        .sort((a, b) => b[1] - a[1] || lineage(b[0]).length - lineage(a[0]).length || (a[0] < b[0] ? -1 : 1))
        .map(([term, probability]) => labelOf(term, probability)),
    category: ({ opened, localId }) => categoryOf(opened, localId),
    identification: ({ view, opened, localId }) => {
      const current = opened.identified.get(localId);
      return current ? identificationSource(view, opened, current) : null;
    },
    identifications: ({ view, opened, localId }) =>
      opened.dossier.identifications
        .filter(({ component }) => component === localId)
        .map((one) => identificationSource(view, opened, one)),
    observations: (source, args) => observationsOf(source, args, source.localId),
    links: (source, args) => linksOf(source, args, source.localId),
  },
  Identification: {
    ...marks(({ record }) => record),
    component: ({ view, opened, record }) => {
      const found = opened.components.get(record.component);
      return found ? componentSource(view, opened, found) : null;
    },
    isCurrent: ({ opened, record }) => opened.identified.get(record.component) === record,
    candidates: (source) => {
      const { candidates } = source.record;
      const sorted =
        candidates.length > 1 ? candidates.toSorted((a, b) => b.probability - a.probability) : candidates;
      return sorted.map((candidate) => candidateSource(source, candidate));
    },
    unknown: ({ record }) => remainder(record.candidates),
    basis: ({ view, opened, record }) => observationsNamed(view, opened, record.basis),
    cites: ({ view, record }) => (record.cites ?? []).flatMap((id) => findNode(view, id) ?? []),
  },
  Candidate: {
    part: ({ view, partId }) => maybe(view, partId ? view.part(partId) : undefined, partSource),
    maker: ({ view, partId, makerId }) => {
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

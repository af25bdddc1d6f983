import { partIdOf } from '../../model/catalogue.ts';
import { PARAMETERS } from '../../model/taxonomy.ts';
import { linkedFrom } from '../../state/knowledge.ts';
import { type Context, type Root, viewOf } from '../base/domain.ts';
import { pageOfComponents } from '../components/list.ts';
import type { PageArguments } from '../connections/paginate.ts';
import { makerSource, maybe, type PartSource, partSource } from '../sources/catalogue.ts';
import { specimenSource } from '../sources/specimen.ts';
import { type PartsArguments, type PartUse, pageOfParts, pageOfUses, probabilityOfUse } from './list.ts';

export const resolvers = {
  Query: {
    part: (root: Root, { id }: { id: string }, context: Context) => {
      const view = viewOf(root, context);
      return maybe(view, view.part(id), partSource);
    },
    parts: (root: Root, args: PartsArguments, context: Context) => pageOfParts(viewOf(root, context), args),
  },
  Part: {
    maker: ({ view, maker }: PartSource) => maybe(view, view.maker(maker), makerSource),
    relabels: ({ view, relabels }: PartSource) =>
      maybe(view, relabels ? view.part(relabels) : undefined, partSource),
    relabelledAs: ({ view, id }: PartSource) => relabelsOf(view, id),
    parameters: ({ parameters }: PartSource) =>
      Object.entries(parameters)
        .filter(([, value]) => value !== undefined)
        .map(([name, value]) => parameterOf(name, value)),
    specimens: (part: PartSource, page: PageArguments) => pageOfUses(part, page),
    components: ({ view, id }: PartSource, page: PageArguments) =>
      pageOfComponents(view, {
        ...page,
        filter: { part: id },
        orderBy: { field: 'DEVICE', direction: 'ASC' },
      }),
  },
  PartUse: {
    probability: probabilityOfUse,
    specimen: ({ part: { view }, specimenId }: PartUse) =>
      maybe(view, view.specimen(specimenId), specimenSource),
  },
};

function relabelsOf(view: PartSource['view'], id: string): PartSource[] {
  return linkedFrom(view.state.knowledge, id, 'RELABELS')
    .flatMap((other) => maybe(view, view.part(other), partSource) ?? [])
    .sort((a, b) => (partIdOf(a) < partIdOf(b) ? -1 : 1));
}

function parameterOf(name: string, value: unknown) {
  const definition = PARAMETERS.get(name);
  const slot = definition?.unit
    ? 'quantity'
    : definition?.text
      ? 'text'
      : definition?.flag
        ? 'flag'
        : 'count';
  return { name, meaning: definition?.is ?? name, [slot]: value };
}

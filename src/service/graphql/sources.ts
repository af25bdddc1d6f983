import type { Decision } from '../../decisions/decision.ts';
import {
  type Claim,
  claimIdOf,
  type Feed,
  type Maker,
  type NamedPattern,
  type Part,
  type ProductLine,
  type Publication,
  partIdOf,
  type Source,
} from '../../model/catalogue.ts';
import type { Device } from '../../model/dossier.ts';
import type { ListMapping } from '../../model/list-mapping.ts';
import type { State } from '../../state/state.ts';

// A source is a record as resolvers see it: its own fields under its global id, the view it was found in
// (the present, or an earlier instant), and the name of its GraphQL type.

interface Seen<N extends string> {
  readonly __typename: N;
  readonly id: string;
  readonly view: State;
}

export type DeviceSource = Device & Seen<'Device'>;
export type MakerSource = Maker & Seen<'Maker'>;
export type ProductLineSource = ProductLine & Seen<'ProductLine'>;
export type PartSource = Part & Seen<'Part'>;
export type PublicationSource = Publication & Seen<'Publication'>;
export type ClaimSource = Claim & Seen<'Claim'> & { readonly publicationId: string };
export type SourceSource = Source & Seen<'Source'>;
export type PatternSource = NamedPattern & Seen<'Pattern'>;
export type FeedSource = Feed & Seen<'Feed'>;
export type ListMappingSource = ListMapping & Seen<'ListMapping'>;

export const deviceSource = (view: State, device: Device): DeviceSource => ({
  ...device,
  view,
  __typename: 'Device',
});
export const makerSource = (view: State, maker: Maker): MakerSource => ({
  ...maker,
  view,
  __typename: 'Maker',
});
export const productLineSource = (view: State, productLine: ProductLine): ProductLineSource => ({
  ...productLine,
  view,
  __typename: 'ProductLine',
});
export const partSource = (view: State, part: Part): PartSource => ({
  ...part,
  id: partIdOf(part),
  view,
  __typename: 'Part',
});
export const publicationSource = (view: State, publication: Publication): PublicationSource => ({
  ...publication,
  view,
  __typename: 'Publication',
});
export const claimSource = (view: State, publication: Publication, claim: Claim): ClaimSource => ({
  ...claim,
  id: claimIdOf(publication, claim),
  publicationId: publication.id,
  view,
  __typename: 'Claim',
});
export const sourceSource = (view: State, source: Source): SourceSource => ({
  ...source,
  view,
  __typename: 'Source',
});
export const patternSource = (view: State, pattern: NamedPattern): PatternSource => ({
  ...pattern,
  view,
  __typename: 'Pattern',
});

export const feedSource = (view: State, feed: Feed): FeedSource => ({ ...feed, view, __typename: 'Feed' });
export const listMappingSource = (view: State, mapping: ListMapping): ListMappingSource => ({
  ...mapping,
  view,
  __typename: 'ListMapping',
});

/** The source of a record that may be absent; null where it is. */
export function maybe<R, S>(view: State, record: R | undefined, source: (view: State, record: R) => S) {
  return record === undefined ? null : source(view, record);
}

/** A decision is a conclusion, worked out when it is asked for. */
export type DecisionSource = Decision & Seen<'Decision'>;

export const decisionSource = (view: State, decision: Decision): DecisionSource => ({
  ...decision,
  view,
  __typename: 'Decision',
});

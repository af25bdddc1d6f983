import {
  type CatalogueRecord,
  type Claim,
  claimIdOf,
  type DeviceRecord,
  type Part,
  type Publication,
} from '../../model/catalogue.ts';
import type { Amendment } from '../../model/correction.ts';
import type { Candidate, Dossier, Identification } from '../../model/dossier.ts';
import type { Figure } from '../../model/figure.ts';
import { isOpen, unmarked } from '../../model/visibility.ts';

/** What a reader may not know of. Every function answers false for what the archive never held. */
export interface Hides {
  /** The instant at which embargoes are judged, ISO 8601. */
  readonly now: string;
  part(id: string): boolean;
  maker(id: string): boolean;
  productLine(id: string): boolean;
  device(id: string): boolean;
  /** Anything that a sentence may be supported by, or that may be cited. */
  anything(id: string): boolean;
  /** A sentence of a publication, whatever the record of the publication says. */
  claim(id: string): boolean;
  identification(specimen: string, identification: Identification): boolean;
}

/**
 * A dossier as if what is hidden had never been: hidden identifications are gone, so that the one before counts; the
 * probability of a hidden candidate goes to unknown.
 */
export function dossierWithout(dossier: Dossier, specimen: string, hides: Hides): Dossier {
  const { observations, judgements } = dossier;
  return {
    ...dossier,
    observations: observations.map((one) => withoutCitations(one, hides)),
    identifications: dossier.identifications.flatMap((one) => {
      if (!isOpen(one, hides.now) || hides.identification(specimen, one)) return [];
      const candidates = one.candidates.flatMap((candidate) => candidateWithout(candidate, hides));
      return candidates.length === 0 ? [] : [withoutCitations({ ...one, candidates }, hides)];
    }),
    ...(judgements ? { judgements: judgements.filter(({ part }) => !hides.part(part)) } : {}),
  };
}

function candidateWithout(candidate: Candidate, hides: Hides): readonly Candidate[] {
  const { part, maker } = candidate;
  if (part !== undefined && hides.part(part)) return [];
  if (maker === undefined || !hides.maker(maker)) return [candidate];
  const { maker: _, ...rest } = candidate;
  return rest.part === undefined && rest.category === undefined ? [] : [rest];
}

function withoutCitations<T extends { readonly cites?: string[] | undefined }>(thing: T, hides: Hides): T {
  if (!thing.cites?.some((id) => hides.anything(id))) return thing;
  const { cites, ...rest } = thing;
  const seen = cites.filter((id) => !hides.anything(id));
  return (seen.length > 0 ? { ...rest, cites: seen } : rest) as T;
}

/** A device without the predecessors and the product line that are hidden. */
export function deviceWithout(record: DeviceRecord, hides: Hides): DeviceRecord {
  const { productLine, ...rest } = record;
  const succeeds = record.succeeds.filter((id) => !hides.device(id));
  return productLine === undefined || hides.productLine(productLine)
    ? { ...rest, succeeds }
    : { ...record, succeeds };
}

/** A part that does not say what hidden part it is under a new label. */
export function partWithout(part: Part, hides: Hides): Part {
  if (part.relabels === undefined || !hides.part(part.relabels)) return part;
  const { relabels: _, ...rest } = part;
  return rest;
}

/** A publication without hidden sentences, and its sentences without what hidden things support or count in them. */
export function publicationWithout(publication: Publication, hides: Hides): Publication {
  const { id, claims } = publication;
  return {
    ...publication,
    claims: claims.flatMap((claim) =>
      isOpen(claim, hides.now) && !hides.claim(claimIdOf({ id }, claim)) ? [claimWithout(claim, hides)] : [],
    ),
  };
}

function claimWithout(claim: Claim, hides: Hides): Claim {
  const { figures = [], ...rest } = claim;
  const supportedBy = claim.supportedBy.filter((on) => !hides.anything(on));
  const seen = figures.filter((figure) => !namedInFigure(figure).some((on) => hides.anything(on)));
  if (supportedBy.length === claim.supportedBy.length && seen.length === figures.length) return claim;
  return { ...rest, supportedBy, ...(seen.length > 0 ? { figures: seen } : {}) };
}

/** Ids that a figure is about. */
export function namedInFigure(figure: Figure): readonly string[] {
  if ('compare' in figure) return figure.devices;
  const subject: Readonly<Record<string, unknown>> =
    'share' in figure ? figure.share : 'count' in figure ? figure.count : figure.trend;
  const { maker, productLine } = figure.where;
  return [subject.pattern, subject.decision, subject.maker, subject.part, maker, productLine].filter(
    (id) => typeof id === 'string',
  );
}

/** Whether an amendment names something hidden, besides what it corrects. */
export function namesHidden(amendment: Amendment, hides: Hides): boolean {
  const cites = (ids: readonly string[] | undefined) => ids?.some((id) => hides.anything(id)) ?? false;
  if ('identify' in amendment) {
    const { candidates } = amendment.identify;
    const named = candidates.some(
      ({ part, maker }) =>
        (part !== undefined && hides.part(part)) || (maker !== undefined && hides.maker(maker)),
    );
    return named || cites(amendment.identify.cites);
  }
  if ('observe' in amendment) return cites(amendment.observe.cites);
  return 'value' in amendment && textsIn(amendment.value.is).some((text) => hides.anything(text));
}

function textsIn(value: unknown): readonly string[] {
  if (typeof value === 'string') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(textsIn) : [];
}

/** What an identification says, whoever may see it. */
export function identificationKey(identification: Identification): string {
  return JSON.stringify(unmarked(identification));
}

/** One of two records that say the same, the first where they do, so that what is unchanged stays the same object. */
export function sameOr<T extends CatalogueRecord>(before: T | undefined, now: T): T {
  return before !== undefined && JSON.stringify(before) === JSON.stringify(now) ? before : now;
}

import type { AuditedClaim, ClaimFinding } from '../../../evidence/audit.ts';
import type { DecisionChange, Difference } from '../../../evidence/difference.ts';
import type { Impact } from '../../../evidence/impact-of.ts';
import type { Named } from '../../../evidence/named.ts';
import type { ShownPhoto } from '../../../evidence/photos-showing.ts';
import type { Correction } from '../../../model/correction.ts';
import { CasebackError } from '../../../model/problems.ts';
import {
  auditOf,
  auditOfClaim,
  correctionsMade,
  impactOfThing,
  photosOfClaimById,
} from '../../../questions/evidence.ts';
import type { State } from '../../../state/state.ts';
import { authorship, entrySource } from '../changes/input.ts';
import { type Seen, viewOf } from '../context.ts';
import { idIn } from '../instants.ts';
import { rankedListing } from '../listing.ts';
import { itself, marks, recalled } from '../marks.ts';
import { findThing } from '../node.ts';
import { type PageArguments, paginate } from '../paginate.ts';
import type * as Api from '../resolver-types.ts';
import { claimSource, deviceSource, maybe, publicationSource } from '../sources.ts';
import type { PhotoSource } from '../specimens/sources.ts';
import { enumName } from '../words.ts';
import { amendmentOf } from './amendment.ts';

/** What a thing supports, as its resolvers see it. */
export type ImpactSource = Seen<Impact>;
/** A photo that shows what supports a sentence, as its resolvers see it. */
export type ClaimPhotoSource = Seen<ShownPhoto>;
/** What a change makes different, whole; its lists are given a page at a time. */
export type DifferenceSource = ReturnType<typeof differenceSource>;

function auditSource(view: State, { claim, publication, wording, support, ...audited }: AuditedClaim) {
  return {
    ...audited,
    claim: claimSource(view, publication, claim),
    likelihoodWords: wording.words,
    low: wording.low,
    high: wording.high,
    rangeBy: enumName(wording.by),
    statements: audited.statements.map(({ kind, result, ...statement }) => ({
      ...statement,
      kind: enumName(kind),
      result: enumName(result),
    })),
    support: {
      ...support,
      items: support.items.map(({ id, kind, found, ...item }) => ({
        ...item,
        isFound: found ?? null,
        // A figure stands in no record.
        id: kind === 'figure' ? id : idIn(view, id),
        kind: enumName(kind),
      })),
    },
    findings: audited.findings.map(findingSource),
  };
}

const findingSource = ({ kind, message }: ClaimFinding) => ({ kind: enumName(kind), message });

export function differenceSource(view: State, difference: Difference) {
  return {
    devices: difference.devices.flatMap((id) => maybe(view, view.device(id), deviceSource) ?? []),
    gained: difference.gained.map(decisionDifference),
    lost: difference.lost.map(decisionDifference),
    moved: difference.moved.map(decisionDifference),
    cells: difference.cells.map(({ specimenId, ...cell }) => ({ ...cell, specimen: specimenId })),
    trendPoints: difference.trendPoints.map(({ deviceId, ...point }) => ({ ...point, device: deviceId })),
    claims: difference.claims.map(
      ({ publicationId, newFindings, settledFindings, movedFindings, ...claim }) => ({
        ...claim,
        publication: publicationId,
        newFindings: newFindings.map(findingSource),
        settledFindings: settledFindings.map(findingSource),
        movedFindings: movedFindings.map(findingSource),
      }),
    ),
  };
}

const decisionDifference = ({ standingBefore, standingAfter, ...change }: DecisionChange) => ({
  ...change,
  standingBefore: enumName(standingBefore ?? undefined),
  standingAfter: enumName(standingAfter ?? undefined),
});

/** A correction, as its resolvers see it. */
export type CorrectionSource = ReturnType<typeof correctionSource>;

function correctionSource(view: State, { id: recorded, ...correction }: Correction) {
  return {
    ...correction,
    view,
    recorded,
    id: idIn(view, recorded),
    publications: correction.publications.flatMap(({ publication: id, claims, ...touched }) => {
      const publication = maybe(view, view.publication(id), publicationSource);
      const sentences = claims.map(({ claim, ...rest }) => ({ ...rest, id: idIn(view, claim) }));
      return publication ? [{ ...touched, publication, claims: sentences }] : [];
    }),
  };
}

/** The kind of a thing as the schema names it: `ProductLine` as `PRODUCT_LINE`. */
export const thingKind = (kind: string) =>
  kind.replaceAll(/(?<=[a-z])(?=[A-Z])/gu, '_').toUpperCase() as Api.ThingKind;

function namedSource<N extends Named>(view: State, { id, kind, ...more }: N) {
  return { ...more, id: idIn(view, id), kind: thingKind(kind) };
}

/** A page of things that have an id. */
function pageOf<T extends { readonly id: string }>(name: string, things: readonly T[], page: PageArguments) {
  return paginate(
    rankedListing(name, things, ({ id }) => id),
    page,
    (one) => one,
  );
}

/** Sentences held against their evidence, what supports what, and what a change makes different. */
export const evidence: Api.Resolvers = {
  Query: {
    auditClaims: async (root, { publication, includeFitting, ...page }, context) => {
      const view = viewOf(root, context);
      const audited = await auditOf(view, publication ?? undefined, context.signal());
      const found = audited.filter(({ findings }) => includeFitting || findings.length > 0);
      return paginate(
        rankedListing('audited sentences', found, ({ id }) => id),
        page,
        (one) => auditSource(view, one),
      );
    },
    impactOf: async (root, { id }, context) => {
      const view = viewOf(root, context);
      return { ...(await impactOfThing(view, id, context.signal())), view };
    },
    whatIf: async (root, { change }, context) => {
      const view = viewOf(root, context);
      if (view !== context.view)
        throw new CasebackError(
          'BAD_INPUT',
          'a change is tried out on the archive as it is now; leave out asOf',
        );
      return differenceSource(
        view,
        await context.archive.whatIf(view, amendmentOf(change), context.signal()),
      );
    },
    corrections: async (root, page, context) => {
      const view = viewOf(root, context);
      const listing = rankedListing('corrections', await correctionsMade(view), ({ id }) => id);
      return paginate(listing, page, (one) => correctionSource(view, one));
    },
  },
  Claim: {
    audit: async ({ view, id }, _args, context) =>
      auditSource(view, await auditOfClaim(view, id, context.signal())),
    photos: async ({ view, id }, _args, context) =>
      (await photosOfClaimById(view, id, context.signal())).map((shown) => ({ ...shown, view })),
  },
  ClaimPhoto: {
    photo: async ({ view, id }) => (await findThing(view, id)) as PhotoSource | null,
    of: ({ view, part }) => (part ? findThing(view, part.of) : null),
    fragment: ({ part }) => (part ? `xywh=percent:${part.box.join(',')}` : null),
    address: async (shown) => {
      const { pictureAtService } = await import('../../pages/sheet.ts');
      return pictureAtService(shown)?.src ?? null;
    },
  },
  Publication: {
    corrections: async ({ view, id }) =>
      (await correctionsMade(view))
        .filter(({ publications }) => publications.some(({ publication }) => publication === id))
        .map((one) => correctionSource(view, one)),
  },
  Correction: { ...marks(itself), recalled: ({ view, recorded }) => recalled({ view, id: recorded }) },
  Impact: {
    of: ({ view, of }) => namedSource(view, of),
    impacted: ({ view, impacted }, { kinds, ...page }) => {
      const found = impacted.filter(({ kind }) => !kinds || kinds.includes(thingKind(kind)));
      return paginate(
        rankedListing('things supported', found, ({ id }) => id),
        page,
        (one) => ({
          ...namedSource(view, one),
          path: one.path.map((id) => idIn(view, id)),
        }),
      );
    },
  },
  Difference: {
    devices: ({ devices }, page) => pageOf('devices that differ', devices, page),
    gained: ({ gained }, page) => pageOf('decisions gained', gained, page),
    lost: ({ lost }, page) => pageOf('decisions lost', lost, page),
    moved: ({ moved }, page) => pageOf('decisions moved', moved, page),
    cells: ({ cells }, page) =>
      paginate(
        rankedListing('cells that differ', cells, ({ specimen, row }) => `${specimen} ${row}`),
        page,
        (one) => one,
      ),
    trendPoints: ({ trendPoints }, page) =>
      paginate(
        rankedListing(
          'points that differ',
          trendPoints,
          ({ subject, year, device }) => `${device} ${year} ${subject}`,
        ),
        page,
        (one) => one,
      ),
    claims: ({ claims }, page) => pageOf('sentences that differ', claims, page),
  },
  Mutation: {
    correct: async (_root, { input: { change, embargoUntil, ...by } }, { archive, view, who }) => {
      const report = await archive.correct(
        amendmentOf(change),
        authorship(by, who),
        view.audience,
        embargoUntil ?? undefined,
      );
      const now = archive.state(view.audience);
      return {
        correction: correctionSource(now, report.correction),
        difference: differenceSource(now, report.difference),
        entry: entrySource(report.entry),
      };
    },
  },
};

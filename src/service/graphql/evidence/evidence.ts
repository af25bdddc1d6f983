import type { AuditedClaim, ClaimFinding } from '../../../evidence/audit.ts';
import type { DecisionChange, Difference } from '../../../evidence/difference.ts';
import type { Impact } from '../../../evidence/impact-of.ts';
import type { Correction } from '../../../model/correction.ts';
import { CasebackError } from '../../../model/problems.ts';
import { auditOf, auditOfClaim, correctionsMade, impactOfThing } from '../../../questions/evidence.ts';
import type { View } from '../../../state/view.ts';
import { authorship } from '../changes/input.ts';
import { viewOf } from '../context.ts';
import type { Resolvers } from '../resolver-types.ts';
import { claimSource, deviceSource, maybe, publicationSource } from '../sources.ts';
import { bounded, enumName } from '../words.ts';
import { amendmentOf } from './amendment.ts';

/** What depends on a thing, as its resolvers see it. */
export type ImpactSource = Impact;
/** What a change makes different, whole; its lists are given as far as asked. */
export type DifferenceSource = ReturnType<typeof differenceSource>;

/** Items of a list. */
const MAX_ITEMS = 1_000;

function auditSource(view: View, { id: _, claim, publication, wording, ...audited }: AuditedClaim) {
  return {
    ...audited,
    claim: claimSource(view, publication, claim),
    likelihoodWords: wording.words,
    low: wording.low,
    high: wording.high,
    rangeBy: wording.by,
    sweeping: wording.sweeping,
    findings: audited.findings.map(findingSource),
  };
}

const findingSource = ({ kind, message }: ClaimFinding) => ({ kind: enumName(kind), message });

function differenceSource(view: View, difference: Difference) {
  return {
    devices: difference.devices.flatMap((id) => maybe(view, view.device(id), deviceSource) ?? []),
    gained: difference.gained.map(decisionShift),
    lost: difference.lost.map(decisionShift),
    moved: difference.moved.map(decisionShift),
    cells: difference.cells.map(({ specimenId, ...cell }) => ({ ...cell, specimen: specimenId })),
    trendPoints: difference.trendPoints.map(({ deviceId, ...point }) => ({ ...point, device: deviceId })),
    claims: difference.claims.map(({ publicationId, newFindings, settledFindings, ...claim }) => ({
      ...claim,
      publication: publicationId,
      newFindings: newFindings.map(findingSource),
      settledFindings: settledFindings.map(findingSource),
    })),
  };
}

const decisionShift = ({ standingBefore, standingAfter, ...change }: DecisionChange) => ({
  ...change,
  standingBefore: enumName(standingBefore ?? undefined),
  standingAfter: enumName(standingAfter ?? undefined),
});

function correctionSource(view: View, correction: Correction) {
  return {
    ...correction,
    publications: correction.publications.flatMap(({ publication: id, claims, ...touched }) => {
      const publication = maybe(view, view.publication(id), publicationSource);
      const sentences = claims.map(({ claim, ...rest }) => ({ ...rest, id: claim }));
      return publication ? [{ ...touched, publication, claims: sentences }] : [];
    }),
  };
}

const firstOf = <T>(items: readonly T[], { first }: { readonly first: number }) =>
  items.slice(0, bounded('first', first, MAX_ITEMS));

/** Sentences held against their evidence, what depends on what, and what a change makes different. */
export const evidence: Resolvers = {
  Query: {
    auditClaims: async (root, { publication, fitting, first }, context) => {
      const maximum = bounded('first', first, MAX_ITEMS);
      const view = viewOf(root, context);
      const audited = await auditOf(view, publication ?? undefined, context.signal());
      return audited
        .filter(({ findings }) => fitting || findings.length > 0)
        .slice(0, maximum)
        .map((one) => auditSource(view, one));
    },
    impactOf: (root, { id }, context) => impactOfThing(viewOf(root, context), id, context.signal()),
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
    corrections: async (root, { last }, context) => {
      const maximum = bounded('last', last, MAX_ITEMS);
      const view = viewOf(root, context);
      return (await correctionsMade(view)).slice(-maximum).map((one) => correctionSource(view, one));
    },
  },
  Claim: {
    audit: async ({ view, id }, _args, context) =>
      auditSource(view, await auditOfClaim(view, id, context.signal())),
  },
  Publication: {
    corrections: async ({ view, id }) =>
      (await correctionsMade(view))
        .filter(({ publications }) => publications.some(({ publication }) => publication === id))
        .map((one) => correctionSource(view, one)),
  },
  Impact: {
    totalCount: ({ impacted }) => impacted.length,
    impacted: ({ impacted }, { first, kinds }) =>
      firstOf(
        impacted.filter(({ kind }) => !kinds || kinds.includes(kind)),
        { first },
      ),
  },
  Difference: {
    counts: (difference) => ({
      devices: difference.devices.length,
      gained: difference.gained.length,
      lost: difference.lost.length,
      moved: difference.moved.length,
      cells: difference.cells.length,
      trendPoints: difference.trendPoints.length,
      claims: difference.claims.length,
    }),
    devices: ({ devices }, args) => firstOf(devices, args),
    gained: ({ gained }, args) => firstOf(gained, args),
    lost: ({ lost }, args) => firstOf(lost, args),
    moved: ({ moved }, args) => firstOf(moved, args),
    cells: ({ cells }, args) => firstOf(cells, args),
    trendPoints: ({ trendPoints }, args) => firstOf(trendPoints, args),
    claims: ({ claims }, args) => firstOf(claims, args),
  },
  Mutation: {
    correct: async (_root, { change, ...by }, { archive, view }) => {
      const report = await archive.correct(amendmentOf(change), authorship(by), view.audience);
      const now = archive.view(view.audience);
      return {
        correction: correctionSource(now, report.correction),
        difference: differenceSource(now, report.difference),
        entry: report.entry,
      };
    },
  },
};

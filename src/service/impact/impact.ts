import type { Authorship } from '../../archive.ts';
import { type AuditedClaim, auditClaim, auditClaims, type ClaimFinding } from '../../evidence/audit.ts';
import { correctionsIn } from '../../evidence/corrections.ts';
import type { DecisionChange, Difference } from '../../evidence/difference.ts';
import { type Impact, impactOf } from '../../evidence/impact-of.ts';
import { sightOf } from '../../evidence/sight.ts';
import type { Correction, TouchedPublication } from '../../model/correction.ts';
import { CasebackError } from '../../model/problems.ts';
import { resolved } from '../../state/resolve.ts';
import type { View } from '../../state/view.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { enumName } from '../base/enums.ts';
import { authorship } from '../changes/input.ts';
import {
  type ClaimSource,
  claimSource,
  deviceSource,
  maybe,
  type PublicationSource,
  publicationSource,
} from '../sources/catalogue.ts';
import { type AmendmentInput, amendmentOf } from './amendment.ts';
import { schema } from './schema.ts';

interface Seen {
  readonly view: View;
}

function auditSource(view: View, { id: _, claim, publication, said, ...audited }: AuditedClaim) {
  return {
    ...audited,
    claim: claimSource(view, publication, claim),
    likelihoodWords: said.words,
    low: said.low,
    high: said.high,
    rangeBy: said.by,
    sweeping: said.sweeping,
    findings: audited.findings.map(findingSource),
  };
}

const findingSource = ({ kind, says }: ClaimFinding) => ({ kind: enumName(kind), says });

function differenceSource(view: View, difference: Difference) {
  return {
    ...difference,
    devices: difference.devices.flatMap((id) => maybe(view, view.device(id), deviceSource) ?? []),
    gained: difference.gained.map(decisionChange),
    lost: difference.lost.map(decisionChange),
    moved: difference.moved.map(decisionChange),
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

const decisionChange = ({ standingBefore, standingAfter, ...change }: DecisionChange) => ({
  ...change,
  standingBefore: enumName(standingBefore ?? undefined),
  standingAfter: enumName(standingAfter ?? undefined),
});

function correctionSource(view: View, correction: Correction) {
  return {
    ...correction,
    publications: correction.publications.map((publication) => ({ ...publication, view })),
  };
}

/** Lists of a difference, each given as far as asked. */
const LISTS = ['devices', 'gained', 'lost', 'moved', 'cells', 'trendPoints', 'claims'] as const;
type Lists = Readonly<Record<(typeof LISTS)[number], readonly unknown[]>>;

const MOST = 1_000;

function bounded(name: 'first' | 'last', value: number): number {
  if (value < 1 || value > MOST)
    throw new CasebackError('BAD_INPUT', `${name} is ${value}; it must be 1 to ${MOST}`);
  return value;
}

const listFields = Object.fromEntries(
  LISTS.map((list) => [
    list,
    (difference: Lists, { first }: { first: number }) => difference[list].slice(0, bounded('first', first)),
  ]),
);

/** Sentences held against their evidence, what rests on what, and what a change comes to. */
export const impact: Domain = {
  schema,
  resolvers: {
    Query: {
      auditClaims: async (
        root: Root,
        { publication, fitting, first }: { publication?: string | null; fitting: boolean; first: number },
        context: Context,
      ) => {
        const most = bounded('first', first);
        const view = viewOf(root, context);
        const audited = await auditClaims(view, publication ?? undefined, context.signal());
        return audited
          .filter(({ findings }) => fitting || findings.length > 0)
          .slice(0, most)
          .map((one) => auditSource(view, one));
      },
      impactOf: (root: Root, { id }: { id: string }, context: Context) =>
        impactOf(viewOf(root, context), id, context.signal()),
      whatIf: async (root: Root, { change }: { change: AmendmentInput }, context: Context) => {
        const view = viewOf(root, context);
        if (view !== context.view)
          throw new CasebackError(
            'BAD_INPUT',
            'a change is tried out on the archive as it is now; leave out asOf',
          );
        const difference = await context.archive.whatIf(view, amendmentOf(change), context.signal());
        return differenceSource(view, difference);
      },
      corrections: (root: Root, { last }: { last: number }, context: Context) => {
        const most = bounded('last', last);
        const view = viewOf(root, context);
        return correctionsIn(view)
          .slice(-most)
          .map((one) => correctionSource(view, one));
      },
    },
    Claim: {
      audit: async (source: ClaimSource, _: unknown, context: Context) => {
        const { view } = source;
        const { publication, thing } = resolved(view, source.id, ['Claim']);
        return auditSource(view, await auditClaim(sightOf(view, context.signal()), publication, thing));
      },
    },
    Publication: {
      corrections: ({ view, id }: PublicationSource) =>
        correctionsIn(view)
          .filter(({ publications }) => publications.some(({ publication }) => publication === id))
          .map((one) => correctionSource(view, one)),
    },
    Impact: {
      totalCount: ({ impacted }: Impact) => impacted.length,
      impacted: (
        { impacted }: Impact,
        { first, kinds }: { first: number; kinds?: readonly string[] | null },
      ) => {
        const most = bounded('first', first);
        return impacted.filter(({ kind }) => !kinds || kinds.includes(kind)).slice(0, most);
      },
    },
    Difference: {
      ...listFields,
      counts: (difference: Lists) => Object.fromEntries(LISTS.map((list) => [list, difference[list].length])),
    },
    CorrectedPublication: {
      publication: ({ view, publication }: TouchedPublication & Seen) =>
        maybe(view, view.publication(publication), publicationSource),
      claims: ({ claims }: TouchedPublication) =>
        claims.map(({ claim, ...rest }) => ({ ...rest, id: claim })),
    },
    Mutation: {
      correct: async (
        _root: unknown,
        { change, ...by }: Authorship & { change: AmendmentInput },
        { archive, view }: Context,
      ) => {
        const report = await archive.correct(amendmentOf(change), authorship(by), view.audience);
        return {
          correction: correctionSource(view, report.correction),
          difference: differenceSource(view, report.difference),
          entry: report.entry,
        };
      },
    },
  },
  weights: {
    'Query.auditClaims': 2_000,
    'Query.impactOf': 1_000,
    'Query.whatIf': 2_000,
    'Mutation.correct': 3_000,
    'Claim.audit': 100,
    'Publication.corrections': 5,
    'Query.corrections': 20,
  },
};

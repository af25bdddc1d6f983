import { limited } from '../../../dossier/limited.ts';
import type { Trust } from '../../../identification/calibration.ts';
import type { CandidateSet } from '../../../identification/conformal.ts';
import type { KindOdds } from '../../../identification/kinds.ts';
import type { CandidateOdds, Posterior } from '../../../identification/posterior.ts';
import type { Candidates, PlacedDisagreement } from '../../../identification/questions.ts';
import type { ReadMarking } from '../../../identification/read-marking.ts';
import { partIdOf } from '../../../model/catalogue.ts';
import { judgementSchema } from '../../../model/dossier.ts';
import { lastOfId, specimenOfId, thingId } from '../../../model/ids.ts';
import { formatMarking } from '../../../model/marking.ts';
import { CasebackError } from '../../../model/problems.ts';
import {
  candidateSet,
  candidatesFor,
  contradicted,
  observationsWanted,
  partsMarkedLike,
  partsWithNumber,
  readMarkingText,
  trustOf,
} from '../../../questions/identification.ts';
import { isFitted } from '../../../state/labels.ts';
import type { ReliabilityBin } from '../../../statistics/scores.ts';
import { authorship, entrySource, recordOf } from '../changes/input.ts';
import { componentSource } from '../component-sources.ts';
import { type Seen, viewOf } from '../context.ts';
import { rankedListing } from '../listing.ts';
import { componentIn, observationIn } from '../node.ts';
import { paginate } from '../paginate.ts';
import { isEditor } from '../permissions.ts';
import type { Resolvers } from '../resolver-types.ts';
import { makerSource, maybe, partSource } from '../sources.ts';
import { bounded, enumName } from '../words.ts';

/** What a component may be, as its resolvers see it. */
export type CandidatesSource = Seen<Candidates>;
/** A contradicted identification, as its resolvers see it. */
export type DisagreementSource = Seen<PlacedDisagreement>;
/** A part that a component may be, with the odds it is one of. */
export type PossiblePartSource = Seen<CandidateOdds> & { readonly odds: Posterior };
/** A set of candidates. */
export type CandidateSetSource = Seen<CandidateSet>;
/** A marking as typed, read. */
export type MarkingReadingSource = Seen<ReadMarking> & { readonly given: string };

/** Characters of a marking. */
const LONGEST_MARKING = 500;

const likeliest = (weights: ReadonlyMap<string, number>) => [...weights].sort((a, b) => b[1] - a[1]);

const possibleKind = (kind: KindOdds) => ({
  ...kind,
  evidence: kind.evidence.map((piece) => ({ ...piece, kind: enumName(piece.kind) })),
});

/** Bins of a calibration as the schema has them. */
function binned<T extends Trust>(found: T) {
  const bin = ({ interval, calibrated, ...rest }: ReliabilityBin) => ({
    ...rest,
    isCalibrated: calibrated,
    low: interval?.low ?? null,
    high: interval?.high ?? null,
  });
  return {
    ...found,
    reliability: found.reliability.map(bin),
    nearlyCertain: found.nearlyCertain.map(bin),
  };
}

/** What components may be, and what could still be looked at. */
export const identification: Resolvers = {
  Query: {
    candidates: async (root, { component }, context) => {
      const view = viewOf(root, context);
      return { ...(await candidatesFor(view, component)), view };
    },
    nextObservations: async (root, { of, first, includeDestructive }, context) => {
      const view = viewOf(root, context);
      const maximum = bounded('first', first, 200);
      const all = await observationsWanted(view, of, context.signal());
      return all
        .filter(({ method }) => includeDestructive || !method.destructive)
        .slice(0, maximum)
        .map(({ placed, method, gainBits, pin, ...one }) => ({
          ...one,
          component: componentSource(view, placed.opened, placed.component),
          pin: pin ?? null,
          kind: enumName(method.reads),
          bits: gainBits,
          minutes: method.minutes,
          isDestructive: method.destructive,
        }));
    },
    readMarking: async (root, { text, released }, context) => {
      if (text.length > LONGEST_MARKING)
        throw new CasebackError(
          'TOO_LARGE',
          `text has ${text.length} characters; at most ${LONGEST_MARKING}`,
        );
      const reading = await readMarkingText(text, released ?? undefined);
      return { ...reading, view: viewOf(root, context), given: text };
    },
    disagreements: async (root, page, context) => {
      const view = viewOf(root, context);
      const all = await contradicted(view, context.signal());
      const keyOf = ({ placed }: PlacedDisagreement) => thingId(placed.opened.id, placed.component.id);
      return paginate(rankedListing('contradicted identifications', all, keyOf), page, (one) => ({
        ...one,
        view,
      }));
    },
    calibration: async (root, { sample, seed }, context) => {
      if (typeof sample === 'number' && sample < 1)
        throw new CasebackError('BAD_INPUT', `sample is ${sample}; it must be 1 or more`);
      if (seed < 0) throw new CasebackError('BAD_INPUT', `seed is ${seed}; it must be 0 or more`);
      const found = await trustOf(viewOf(root, context), {
        sample: sample ?? undefined,
        seed,
        signal: context.signal(),
      });
      return found ? { ...binned(found), withoutParts: binned(found.withoutParts) } : null;
    },
  },
  Disagreement: {
    component: ({ view, placed: { opened, component } }) => componentSource(view, opened, component),
    instead: ({ view, instead }) => maybe(view, instead, partSource),
    against: ({ against }) => against.map((one) => ({ ...one, kind: enumName(one.kind) })),
  },
  Component: {
    candidates: async ({ view, recordedId: id, record }) =>
      isFitted(record) ? { ...(await candidatesFor(view, id)), view } : null,
  },
  CandidateSet: {
    parts: ({ view, parts }, { first }) =>
      parts.slice(0, bounded('first', first, 100)).map(({ part }) => partSource(view, part)),
    hasNone: ({ none }) => none,
    among: ({ among }) => enumName(among),
    void: (set) => set.void ?? null,
  },
  Candidates: {
    component: ({ view, opened, component }) => componentSource(view, opened, component),
    state: ({ state }) => enumName(state),
    parts: ({ view, odds }, { first }) =>
      odds.candidates.slice(0, bounded('first', first, 100)).map((one) => ({ ...one, odds, view })),
    none: ({ odds }) => odds.none,
    disagreement: ({ view, opened, component, device, disagreement }) =>
      disagreement ? { ...disagreement, placed: { opened, component, device }, view } : null,
    set: async (placed, { coverage }, context) => ({
      ...(await candidateSet(placed.view, placed, coverage, { signal: context.signal() })),
      view: placed.view,
    }),
    categories: ({ odds }) =>
      likeliest(odds.categories).map(([term, probability]) => ({ term, probability })),
    kinds: ({ kinds }) => kinds.map(possibleKind),
    classes: ({ chip, kinds }) =>
      (chip?.classes ?? []).map(({ is, probability, kinds: of }) => ({
        name: is,
        probability,
        kinds: of.flatMap(({ term }) => kinds.find((one) => one.term === term) ?? []).map(possibleKind),
      })),
    roles: ({ view, opened, chip }) =>
      (chip?.roles ?? []).map(({ component, classes, ...role }) => {
        const neighbour = component === undefined ? undefined : opened.components.get(component);
        return {
          ...role,
          classes: [...classes],
          component: neighbour ? componentSource(view, opened, neighbour) : null,
        };
      }),
    sentence: ({ chip }) => chip?.sentence ?? null,
    whatWouldSettleIt: ({ chip }) =>
      (chip?.whatWouldSettleIt ?? []).map(({ action, tells, gainBits, bitsPerMinute, method, cautions }) => ({
        ...{ action, bitsPerMinute, cautions: [...cautions] },
        tells: tells ?? null,
        bits: gainBits,
        minutes: method.minutes,
        isDestructive: method.destructive,
      })),
    makers: ({ view, odds }) =>
      likeliest(odds.makers).flatMap(([id, probability]) => {
        const maker = maybe(view, view.maker(id), makerSource);
        return maker ? [{ maker, probability }] : [];
      }),
  },
  PossiblePart: {
    part: ({ view, part }) => partSource(view, part),
    evidence: ({ part, odds }) =>
      odds.evidenceFor(partIdOf(part)).map((one) => ({ ...one, kind: enumName(one.kind) })),
  },
  MarkingReading: {
    text: ({ marking }) => formatMarking(marking),
    numbered: async ({ view, given }) =>
      (await partsWithNumber(view, given)).map((part) => partSource(view, part)),
    matches: async (reading) =>
      (await partsMarkedLike(reading.view, reading, 10)).map(({ part, ...one }) => ({
        ...one,
        part: partSource(reading.view, part),
      })),
  },
  Mutation: {
    judgeIdentification: async (
      _root,
      { input: { component: id, part, decibans, ...by } },
      { archive, view, who },
    ) => {
      const { actor, reason } = authorship(by, who);
      const [specimen, component] = [specimenOfId(id), lastOfId(id)];
      const today = new Date().toISOString().slice(0, 10);
      const record = { component, part, decibans, by: actor, reason, on: today };
      const judgement = recordOf(judgementSchema, record, '');
      const entry = await archive.judgeIdentification(specimen, judgement, { actor, reason }, view.audience);
      return {
        entry: entrySource(entry),
        component: componentIn(archive.state(view.audience), specimen, component),
        cautions: limited(entry.cautions),
      };
    },
    withdrawObservation: async (_root, { input: { specimen, observation, ...by } }, context) => {
      const { archive, view, who } = context;
      const entry = await archive.withdrawObservation(
        specimen,
        observation,
        authorship(by, who),
        view.audience,
        { mayAny: isEditor(context) },
      );
      return {
        entry: entrySource(entry),
        observation: observationIn(archive.state(view.audience), specimen, observation),
      };
    },
  },
};

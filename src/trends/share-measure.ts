import type { Device } from '../model/dossier.ts';
import { CERTAIN, POSSIBLE } from '../state/labels.ts';
import type { State } from '../state/state.ts';
import { clusteredShare, effectiveSize } from '../statistics/cluster-interval.ts';
import { shareBand } from '../statistics/share-band.ts';
import { tidy } from '../statistics/tidy.ts';
import type { TrendCell } from './answer.ts';
import { EMPTY_CELL, type ReadyMeasure } from './measure.ts';
import { linesOf } from './product-lines.ts';
import { shareTest } from './share-test.ts';
import { type DeviceWeight, deviceWeights, mayHave, type Subject } from './subject.ts';
import { unidentifiedCaution } from './visible-devices.ts';

/** Share of devices that have a subject. */
export async function shareMeasure(
  state: State,
  subject: Subject,
  signal?: AbortSignal,
): Promise<ReadyMeasure> {
  const weights = await deviceWeights(state, subject, signal);
  const observed = ({ id }: Device) => weights.has(id);
  return {
    of: `share of devices with ${subjectText(state, subject)}`,
    unit: '1',
    cell: (devices) => shareCell(devices, weights),
    test: (placed) => shareTest(placed, weights),
    observed,
    weightOf: ({ id }) => {
      const weight = weights.get(id);
      return mayHave(weight) ? weight : undefined;
    },
    cautions: (devices) => unidentifiedCaution(state, devices),
  };
}

function subjectText(state: State, subject: Subject): string {
  if ('pattern' in subject) return `the pattern "${state.pattern(subject.pattern)?.name ?? subject.pattern}"`;
  if ('decision' in subject)
    return `the decision "${state.pattern(subject.decision)?.name ?? subject.decision}"`;
  if ('text' in subject) return 'a match of the pattern given';
  if ('category' in subject) return `a component of the category ${subject.category}`;
  if ('maker' in subject) return `a part made by ${state.maker(subject.maker)?.name ?? subject.maker}`;
  return `the part ${subject.part}`;
}

function shareCell(devices: readonly Device[], weights: ReadonlyMap<string, DeviceWeight>): TrendCell {
  const members = devices.filter(({ id }) => weights.has(id));
  const observed = members.flatMap(({ id }) => weights.get(id) ?? []);
  const probabilities = observed.map(({ probability }) => probability);
  const n = probabilities.length;
  const notObserved = devices.length - n;
  const absent = observed.filter(({ verdict }) => verdict === 'ABSENT').length;
  const found = shareBand(probabilities, { notObserved, certainFrom: CERTAIN, possibleFrom: POSSIBLE });
  const seen = { ...EMPTY_CELL, devices: devices.length, n, notObserved, absent };
  if (found.kind === 'no-data') return { ...seen, likely: 0, expected: 0, possible: 0 };
  const share = Math.min(1, found.share);
  const { size, clusters } = effectiveSize(probabilities, linesOf(members), share * (1 - share));
  return {
    ...seen,
    value: tidy(found.share),
    interval: found.sampling,
    productLines: clusters,
    productLineInterval: clusters === n ? found.sampling : clusteredShare(share, size),
    band: found.band,
    outer: found.outer,
    certain: found.certain,
    likely: probabilities.filter((p) => p >= 0.5).length,
    expected: tidy(found.expected),
    possible: found.possible - notObserved,
  };
}

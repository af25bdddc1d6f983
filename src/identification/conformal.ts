import { partIdOf } from '../model/catalogue.ts';
import { yearOf } from '../model/dates.ts';
import type { Component, Device } from '../model/dossier.ts';
import { isCertain, type MarkingText } from '../model/marking.ts';
import { Pace } from '../state/pace.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import { groupedThreshold, groupsNeeded } from '../statistics/conformal.ts';
import { allSettled, type Settled } from './calibration.ts';
import { dealt, without } from './held-out.ts';
import { type Identifier, judgementsOf } from './identifier.ts';
import type { CandidateOdds, Posterior } from './posterior.ts';
import { sightingOf } from './sighting.ts';

// Candidate sets with a guarantee: split conformal prediction, held out by device. Devices are dealt into two halves. What a
// component of one half may be is worked out by what the other half teaches, and how probable the truth then was for the
// settled components of the other devices of its own half says how improbable a candidate may be and still belong to the set.
// So the device asked about, and those that its set is based on, were all unknown to what states the probabilities, and where
// they are exchangeable the set has its coverage whatever these are worth.
//
// The devices are the units: chips of one device resemble each other. Each counts once (statistics/conformal.ts).
//
// How strange a candidate is, is ln(rank) - 0.2 ln(probability): of probability alone, sets of chips without a marking are long
// where odds are too bold, so the rank keeps them short (after RAPS: Angelopoulos, Bates, Malik & Jordan, ICLR 2021; tried on
// the generated worlds of tests/bench/habits/). Any score keeps the guarantee; it decides the size of the sets alone.
//
// Thresholds are apart for chips whose marking was read clearly, in part and not at all, so that the coverage holds among each,
// as far as there are devices enough; and apart for parts that the catalogue has and for "none in the catalogue" (label-conditional sets: Vovk,
// Gammerman & Shafer 2005, section 4.5; from memory), so that the coverage does not hang on how many chips are in no catalogue,
// which nobody knows. For the latter, parts are taken out of the catalogue, a sixteenth at a time, and counted as missing.

/** Whether what a set is based on was read as the component was, or whether too few are, and all count. */
export type CoverageAmong = 'chips read alike' | 'all chips';

/** A set that holds what the component is with the coverage asked for, or why there is none. */
export interface CandidateSet {
  readonly coverage: number;
  /** Parts of the set, likeliest first, with the probability that the other half of the devices gives them. */
  readonly parts: readonly CandidateOdds[];
  /** Whether "none in the catalogue" belongs to the set. */
  readonly none: boolean;
  /** Members: parts, and none. */
  readonly size: number;
  /** Devices that it is based on. */
  readonly devices: number;
  readonly among: CoverageAmong;
  /** Why nothing can be guaranteed, in words; then the set has no members. */
  readonly void?: string;
}

type Reading = 'clear' | 'in part' | 'none';

/** How strange the truth was for a settled component, by the other half of the devices. */
interface Score {
  readonly reading: Reading;
  readonly score: number;
}

/** Scores of the settled components of one device. */
interface DeviceScores {
  readonly device: Device;
  readonly half: number;
  /** With the part in the catalogue. */
  readonly listed: Score[];
  /** With the part taken out, so that none was the truth. */
  readonly absent: Score[];
}

/** Weight of a probability beside the rank. */
const OF_PROBABILITY = 0.2;
/** Devices released farther than this from every one that is known are of other years, as a decade's parts are other parts. */
const YEARS_APART = 5;
/** Further devices tell next to nothing: with 1,000 in each half the coverage varies by 0.01 from archive to archive. */
const MOST_DEVICES = 2_000;
const GROUPS_OF_PARTS = 16;
/** Deals devices into halves and parts into groups. */
const SEED = 1;

const halfOf = (device: string) => dealt(device, 2, SEED);
const groupOf = (part: string) => dealt(part, GROUPS_OF_PARTS, SEED);

export interface SetOptions {
  readonly signal?: AbortSignal | undefined;
  readonly onProgress?: ((fraction: number) => void) | undefined;
}

/** What candidate sets of one state are based on. */
export class SetCalibration {
  readonly #learners: readonly Identifier[];
  readonly #scores: readonly DeviceScores[];
  readonly #makers: ReadonlyMap<string, readonly DeviceScores[]>;

  private constructor(learners: readonly Identifier[], scores: readonly DeviceScores[]) {
    this.#learners = learners;
    this.#scores = scores;
    this.#makers = Map.groupBy(scores, ({ device }) => device.maker);
  }

  /**
   * Asks about every settled component as the other half of the devices sees it. Costly: some ten times what it takes to learn
   * an archive.
   * @param identifier says what eyes confuse, and what it read is not read again; it learns nothing here
   * @throws the signal's reason
   */
  static async of(
    identifier: Identifier,
    view: State,
    { signal, onProgress }: SetOptions = {},
  ): Promise<SetCalibration> {
    const pace = new Pace(signal);
    const settled = few(await allSettled(view, pace));
    const scores = new Map<string, DeviceScores>();
    for (const { row } of settled) {
      const device = view.device(row.deviceId);
      if (device && !scores.has(device.id))
        scores.set(device.id, { device, half: halfOf(device.id), listed: [], absent: [] });
    }
    const learners: Identifier[] = [];
    let done = 0;
    for (const half of [0, 1]) {
      const own = settled.filter(({ row }) => halfOf(row.deviceId) === half);
      // Nothing is taken out at first, then one group of parts after another.
      for (const group of [undefined, ...Array(GROUPS_OF_PARTS).keys()]) {
        const asked = group === undefined ? own : own.filter(({ truth }) => groupOf(truth) === group);
        const lessons = without(view, {
          keepsDevice: (id) => halfOf(id) !== half,
          ...(group === undefined ? {} : { keepsPart: (id) => groupOf(id) !== group }),
        });
        const learner = identifier.unlearnt(lessons);
        await learner.followInTurns(lessons, signal);
        if (group === undefined) learners.push(learner);
        for (const { row, component, truth } of asked) {
          const of = scores.get(row.deviceId);
          const found = of && askedOf(view, learner, row.id, component, of.device);
          if (!found) continue;
          const score = strangeness(found.odds, group === undefined ? truth : undefined);
          (group === undefined ? of.listed : of.absent).push({ reading: found.reading, score });
          await pace.rest();
        }
        onProgress?.(++done / (2 * (GROUPS_OF_PARTS + 1)));
      }
    }
    return new SetCalibration(learners, [...scores.values()]);
  }

  /**
   * The set of a component.
   * @param coverage 0 to 1, both left out
   * @throws RangeError unless 0 < coverage < 1
   */
  setOf(specimen: OpenedSpecimen, component: Component, device: Device, coverage: number): CandidateSet {
    const half = halfOf(device.id);
    const others = this.#scores.filter((one) => one.half === half && one.device.id !== device.id);
    const { odds, reading } = askedIn(this.#learners[half], specimen, component, device);
    const among = (['chips read alike', 'all chips'] as const).find((who) =>
      hasEnough(others, who === 'all chips' ? undefined : reading, coverage),
    );
    const counting = among === 'chips read alike' ? reading : undefined;
    const [listed, absent] = (['listed', 'absent'] as const).map((which) =>
      scoresOf(others, which, counting),
    );
    const rest = { coverage, devices: listed.length, among: among ?? 'all chips' };
    const limits = [listed, absent].map((scores) => groupedThreshold(scores, coverage));
    const why = this.#isUnlike(device) ?? isTooMuch(coverage, listed.length, limits);
    if (why !== undefined) return { ...rest, parts: [], none: false, size: 0, void: why };
    const [ofListed, ofAbsent] = limits as number[];
    const parts = odds.candidates.filter(
      ({ probability }, rank) => strangenessOf(rank, probability) <= ofListed,
    );
    const none = strangeness(odds, undefined) <= ofAbsent;
    if (parts.length > 0 || none) return { ...rest, parts, none, size: parts.length + Number(none) };
    // Where nothing is likely enough the likeliest stands for the empty set: a set that holds more misses no more.
    const [first] = odds.candidates;
    const isNone = first === undefined || first.probability < odds.none;
    return { ...rest, parts: isNone ? [] : [first], none: isNone, size: 1 };
  }

  /** Why a device is not one of a kind with those that sets are based on, in words; undefined when nothing speaks against it. */
  #isUnlike({ id, maker, released }: Device): string | undefined {
    if (!this.#makers.get(maker)?.some(({ device }) => device.id !== id))
      return `no other device of the maker ${maker} has a settled component, and what is known of other makers' devices need not hold for it`;
    const year = yearOf(released);
    const years = this.#scores.flatMap(({ device }) => (device.id === id ? [] : [yearOf(device.released)]));
    if (years.some((other) => Math.abs(other - year) <= YEARS_APART)) return undefined;
    return `it is of ${year}, and no device with a settled component was released within ${YEARS_APART} years of that (they are of ${Math.min(...years)} to ${Math.max(...years)})`;
  }
}

/** Scores by device, of components that were read so or of all. */
function scoresOf(
  devices: readonly DeviceScores[],
  which: 'listed' | 'absent',
  reading: Reading | undefined,
): readonly (readonly number[])[] {
  return devices
    .map((one) =>
      one[which].flatMap((of) => (reading === undefined || of.reading === reading ? [of.score] : [])),
    )
    .filter((scores) => scores.length > 0);
}

function hasEnough(others: readonly DeviceScores[], reading: Reading | undefined, coverage: number): boolean {
  const needed = groupsNeeded(coverage);
  return (['listed', 'absent'] as const).every((which) => scoresOf(others, which, reading).length >= needed);
}

function isTooMuch(
  coverage: number,
  devices: number,
  limits: readonly (number | undefined)[],
): string | undefined {
  if (limits.includes(undefined))
    return `a coverage of ${coverage} takes ${groupsNeeded(coverage)} other devices with settled components in the same half of the archive, and there are ${devices}`;
  if (limits.includes(Number.POSITIVE_INFINITY))
    return `with a coverage of ${coverage} the set would hold the whole catalogue: too often the truth was thought less likely than one in a million`;
  return undefined;
}

/** All settled components of as many devices as are worth asking about, whichever chance has. */
function few(settled: readonly Settled[]): readonly Settled[] {
  const devices = [...new Set(settled.map(({ row }) => row.deviceId))];
  if (devices.length <= MOST_DEVICES) return settled;
  const place = (id: string) => dealt(id, 2 ** 32, SEED + 1);
  const kept = new Set(devices.toSorted((a, b) => place(a) - place(b)).slice(0, MOST_DEVICES));
  return settled.filter(({ row }) => kept.has(row.deviceId));
}

interface Asked {
  readonly odds: Posterior;
  readonly reading: Reading;
}

function askedOf(
  view: State,
  identifier: Identifier,
  specimenId: string,
  component: string,
  device: Device,
): Asked | undefined {
  const specimen = view.specimen(specimenId);
  const found = specimen?.components.get(component);
  return specimen && found && askedIn(identifier, specimen, found, device);
}

function askedIn(
  identifier: Identifier,
  specimen: OpenedSpecimen,
  component: Component,
  device: Device,
): Asked {
  const sighting = sightingOf(specimen, component, device);
  const judgements = judgementsOf(specimen, component.id);
  return {
    odds: identifier.posteriorOfSighting(sighting, device.id, judgements),
    reading: readingOf(sighting.marking),
  };
}

function readingOf(marking: MarkingText | undefined): Reading {
  if (!marking?.flat().some(({ options }) => options.length > 0)) return 'none';
  return isCertain(marking) ? 'clear' : 'in part';
}

/** Of a part, infinite when it is not listed; undefined: of none in the catalogue, by its probability alone. */
function strangeness({ candidates, none }: Posterior, truth: string | undefined): number {
  if (truth === undefined) return -Math.log(none);
  const rank = candidates.findIndex(({ part }) => partIdOf(part) === truth);
  return rank < 0 ? Number.POSITIVE_INFINITY : strangenessOf(rank, candidates[rank].probability);
}

/** @param rank 0 for the likeliest part */
function strangenessOf(rank: number, probability: number): number {
  return Math.log(1 + rank) - OF_PROBABILITY * Math.log(probability);
}

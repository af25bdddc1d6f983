import { partIdOf } from '../model/catalogue.ts';
import { yearOf } from '../model/dates.ts';
import type { Component, Device } from '../model/dossier.ts';
import { Pace } from '../state/pace.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import { groupedThreshold, groupsNeeded } from '../statistics/conformal.ts';
import { allSettled, GROUPS_OF_PARTS, type Settled } from './calibration.ts';
import { dealt, without } from './held-out.ts';
import type { Identifier } from './identifier.ts';
import type { CandidateOdds, Posterior } from './posterior.ts';

// Candidate sets with a guarantee: split conformal prediction, held out by device. Devices are dealt into two halves. What a
// component of one half may be is worked out by what the other half teaches, and how probable the truth then was for the
// settled components of the other devices of its own half says how improbable a candidate may be and still belong to the set.
// So the device asked about, and those that its set rests on, were all unknown to what states the probabilities, and where
// they are exchangeable the set has its coverage whatever these are worth.
//
// The devices are the units: chips of one device resemble each other. Each counts once (statistics/conformal.ts).
//
// Thresholds are apart for parts that the catalogue has and for "none in the catalogue" (label-conditional sets: Vovk,
// Gammerman & Shafer 2005, section 4.5; from memory), so that the coverage does not hang on how many chips are in no catalogue,
// which nobody knows. For the latter, parts are taken out of the catalogue, an eighth at a time, and counted as missing.

/** A set that holds what the component is with the coverage asked for, or why there is none. */
export interface CandidateSet {
  readonly coverage: number;
  /** Parts of the set, likeliest first, with the probability that the other half of the devices gives them. */
  readonly parts: readonly CandidateOdds[];
  /** Whether "none in the catalogue" belongs to the set. */
  readonly none: boolean;
  /** Members: parts, and none. */
  readonly size: number;
  /** Devices that it rests on. */
  readonly devices: number;
  /** Why nothing can be guaranteed, in words; then the set is empty. */
  readonly void?: string;
}

/** How improbable the truth was among settled components of one device, by the other half: -ln of its probability. */
interface DeviceScores {
  readonly device: Device;
  readonly half: number;
  /** Of components whose part was in the catalogue. */
  readonly listed: number[];
  /** Of the same when their part was taken out, so that none was the truth. */
  readonly absent: number[];
}

/** Devices released farther than this from every one that is known are of other years, as a decade's parts are other parts. */
const YEARS_APART = 5;
/** Beyond so many devices further ones tell next to nothing: at 0.9 the coverage then varies by 0.007 from archive to archive. */
const MOST_DEVICES = 2_000;
/** Deals devices into halves and parts into eighths. */
const SEED = 1;
/** Parts less likely than this are not listed one by one, so that no set can hold them. */
const UNLISTED = Math.log(1e6);

const halfOf = (device: string) => dealt(device, 2, SEED);
const groupOf = (part: string) => dealt(part, GROUPS_OF_PARTS, SEED);

/** What candidate sets of one state rest on. */
export class SetCalibration {
  readonly #learners: readonly Identifier[];
  readonly #scores: readonly DeviceScores[];
  readonly #makers = new Map<string, Set<string>>();

  private constructor(learners: readonly Identifier[], scores: readonly DeviceScores[]) {
    this.#learners = learners;
    this.#scores = scores;
    for (const { device } of scores) {
      const known = this.#makers.get(device.maker);
      if (known) known.add(device.id);
      else this.#makers.set(device.maker, new Set([device.id]));
    }
  }

  /**
   * Asks about every settled component as its half of the devices does. Costly: some ten times what it takes to learn an
   * archive.
   * @param identifier says what eyes confuse; it learns nothing here
   * @throws the signal's reason
   */
  static async of(
    identifier: Identifier,
    view: State,
    { signal, onProgress }: { signal?: AbortSignal; onProgress?: (fraction: number) => void } = {},
  ): Promise<SetCalibration> {
    const pace = new Pace(signal);
    const scores = new Map<string, DeviceScores>();
    const settled = few(await allSettled(view, pace));
    for (const { row } of settled) {
      const device = view.device(row.deviceId);
      if (device && !scores.has(device.id))
        scores.set(device.id, { device, half: halfOf(device.id), listed: [], absent: [] });
    }
    let done = 0;
    const learners: Identifier[] = [];
    for (const half of [0, 1]) {
      const keepsDevice = (id: string) => halfOf(id) !== half;
      const own = settled.filter(({ row }) => halfOf(row.deviceId) === half);
      for (let group = -1; group < GROUPS_OF_PARTS; group++) {
        const asked = group < 0 ? own : own.filter(({ truth }) => groupOf(truth) === group);
        const keepsPart = (id: string) => groupOf(id) !== group;
        const learner = identifier.unlearnt();
        if (group < 0 || asked.length > 0) await learner.followInTurns(without(view, { keepsDevice, keepsPart }));
        if (group < 0) learners.push(learner);
        for (const one of asked) {
          const odds = oddsOf(view, learner, one);
          const of = scores.get(one.row.deviceId);
          if (odds && group < 0) of?.listed.push(-Math.log(probabilityOf(odds, one.truth)));
          else if (odds) of?.absent.push(-Math.log(odds.none));
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
    const devices = others.length;
    const listed = groupedThreshold(others.map((one) => one.listed), coverage);
    const absent = groupedThreshold(others.map((one) => one.absent), coverage);
    const why = this.#isUnlike(device) ?? isTooMuch(coverage, devices, listed, absent);
    if (why !== undefined || listed === undefined || absent === undefined)
      return { coverage, parts: [], none: false, size: 0, devices, void: why ?? '' };
    const odds = this.#learners[half].posteriorOf(specimen, component, device);
    const parts = odds.candidates.filter(({ probability }) => -Math.log(probability) <= listed);
    const none = -Math.log(odds.none) <= absent;
    // Where nothing is probable enough the likeliest stands for the empty set: that makes no set miss what it held.
    if (parts.length === 0 && !none) {
      const [first] = odds.candidates;
      const isNone = first === undefined || first.probability < odds.none;
      return { coverage, parts: isNone ? [] : [first], none: isNone, size: 1, devices };
    }
    return { coverage, parts, none, size: parts.length + Number(none), devices };
  }

  /** Why a device is not one of a kind with those that sets rest on, in words; undefined when nothing speaks against it. */
  #isUnlike(device: Device): string | undefined {
    const sameMaker = this.#makers.get(device.maker);
    if (sameMaker === undefined || (sameMaker.size === 1 && sameMaker.has(device.id)))
      return `no other device of maker ${device.maker} has a settled component, and another maker's devices may differ from all that are known`;
    const year = yearOf(device.released);
    const years = this.#scores.flatMap((one) =>
      one.device.id === device.id ? [] : [yearOf(one.device.released)],
    );
    if (years.some((other) => Math.abs(other - year) <= YEARS_APART)) return undefined;
    return `it was released in ${year}, and no device with a settled component within ${YEARS_APART} years of that (they are of ${Math.min(...years)} to ${Math.max(...years)})`;
  }
}

function isTooMuch(
  coverage: number,
  devices: number,
  listed: number | undefined,
  absent: number | undefined,
): string | undefined {
  if (listed === undefined || absent === undefined)
    return `a coverage of ${coverage} needs ${groupsNeeded(coverage)} other devices with settled components in its half of the archive; there are ${devices}`;
  if (listed > UNLISTED)
    return `a coverage of ${coverage} would take parts less likely than one in a million: the whole catalogue`;
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

function oddsOf(view: State, identifier: Identifier, { row, component: id }: Settled): Posterior | undefined {
  const specimen = view.specimen(row.id);
  const device = view.device(row.deviceId);
  const component = specimen?.components.get(id);
  return specimen && device && component && identifier.posteriorOf(specimen, component, device);
}

/** 0 for a part that is not listed. */
function probabilityOf({ candidates }: Posterior, truth: string): number {
  return candidates.find(({ part }) => partIdOf(part) === truth)?.probability ?? 0;
}

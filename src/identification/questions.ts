import { byName, type ChipOdds, type NamedClass } from '../classes/class-odds.ts';
import { type ChipRole, rolesOf, sentenceOf } from '../classes/roles.ts';
import type { Component, Device } from '../model/dossier.ts';
import { parseThingId, recordOfId, thingId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { Pace } from '../state/pace.ts';
import { readingsOf } from '../state/readings.ts';
import { notFound, type ResolvedKind, resolve, resolved } from '../state/resolve.ts';
import type { SharedCaches } from '../state/shared-caches.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import type { Audience } from '../state/visibility/audience.ts';
import {
  type Calibration,
  type CalibrationOptions,
  type CalibrationWithoutParts,
  calibrate,
  calibrateWithoutParts,
} from './calibration.ts';
import { type ClassObservation, classObservations } from './class-observation.ts';
import { type CandidateSet, SetCalibration, type SetOptions } from './conformal.ts';
import type { Confusion } from './confusion.ts';
import { type Disagreement, disagreementOf, recordedPartOf } from './disagreements.ts';
import { Identifier, judgementsOf } from './identifier.ts';
import { type KindOdds, kindsOf } from './kinds.ts';
import { LESSONS, type RestoredLessons, readHere, type SavedLessons } from './lessons-read.ts';
import type { NextObservation } from './next-observation.ts';
import type { PhotoChannel } from './photo-channel.ts';
import type { Posterior } from './posterior.ts';
import { SharedWork } from './shared-work.ts';
import { type Sighting, sightingOf } from './sighting.ts';

/** Where a component stands. */
export interface Placed {
  readonly opened: OpenedSpecimen;
  readonly component: Component;
  readonly device: Device;
}

/** How far the evidence identifies a component, in plain words; the probability is given separately. */
export const CANDIDATE_STATES = ['all-but-certain', 'leading', 'contested', 'not-in-catalogue'] as const;
export type CandidateState = (typeof CANDIDATE_STATES)[number];

export interface Candidates extends Placed {
  readonly state: CandidateState;
  readonly odds: Posterior;
  /** Kinds that it may be by all that hangs on it, whatever the catalogue has; none where its looks tell. */
  readonly kinds: readonly KindOdds[];
  /** The same by the name that an engineer gives, with what it does for its neighbours; undefined where its looks tell. */
  readonly chip: ChipAnswer | undefined;
  /** Where what is recorded and the evidence contradict each other. */
  readonly disagreement: Disagreement | undefined;
}

/** A component whose recorded identification the evidence contradicts. */
export interface PlacedDisagreement extends Disagreement {
  readonly placed: Placed;
}

/** What a chip may be when no part can be named. */
export interface ChipAnswer {
  /** Likeliest first; what they leave to 1 is none of these. */
  readonly classes: readonly NamedClass[];
  readonly roles: readonly ChipRole[];
  /** All of it in one sentence. */
  readonly sentence: string;
  /** Steps at the bench that would tell the class, by bits a minute. */
  readonly whatWouldSettleIt: readonly ClassObservation[];
}

export interface PlacedObservation extends NextObservation {
  readonly placed: Placed;
}

/** Both ways of asking how far the odds can be trusted. */
export interface Trusted extends Calibration {
  readonly withoutParts: CalibrationWithoutParts;
}

/** What one audience may learn from, and what was worked out last of the whole archive. */
interface Learnt {
  identifier: Identifier;
  readonly trusted: SharedWork<Trusted | undefined>;
  readonly sets: SharedWork<SetCalibration>;
}

const learnt = (identifier = new Identifier()): Learnt => ({
  identifier,
  trusted: new SharedWork(),
  sets: new SharedWork(),
});

/** Kept as long as the archive that it follows. */
const learntBy = (): Record<Audience, Learnt> => ({ reader: learnt(), desk: learnt() });

/** Which identifiers were given what a snapshot holds: each once, as what it holds is read once. */
const takenUp = () => new WeakSet<Identifier>();

/** The identifier of an audience as it is. */
function ofAudience({ shared, audience }: State): Identifier {
  const { identifier } = shared.kept(learntBy)[audience];
  const taken = shared.kept(takenUp);
  if (taken.has(identifier)) return identifier;
  taken.add(identifier);
  const restored = shared.saved(LESSONS, audience) as RestoredLessons | undefined;
  if (restored) identifier.takeUp(restored.saved, restored.rows);
  return identifier;
}

/**
 * What the specimens of a state teach, as far as it was read, to be taken up by another process.
 * @param atLeast share of the specimens that must have been read
 */
export function lessonsToSave(state: State, atLeast = 0.5): SavedLessons | undefined {
  const saved = ofAudience(state).save(state);
  const unread = saved.lengths.filter((length) => length < 0).length;
  return unread > (1 - atLeast) * saved.lengths.length ? undefined : saved;
}

/** Reads what specimens teach whenever dossiers are unpacked for something else. */
const READERS: Readonly<Record<Audience, (shared: SharedCaches) => unknown>> = {
  reader: (shared) => readLessonsIn(shared, 'reader'),
  desk: (shared) => readLessonsIn(shared, 'desk'),
};

function readLessonsIn(shared: SharedCaches, audience: Audience) {
  const identifier = () => shared.kept(learntBy)[audience].identifier;
  return readingsOf(shared).add({
    audience,
    needs: (row) => identifier().isUnread(row),
    take(row, specimen, state) {
      const device = state.device(row.deviceId);
      if (device && identifier().knowsCatalogueOf(state)) identifier().readAhead(row, specimen, device);
    },
  });
}

/**
 * From now on, dossiers unpacked for something else, such as patterns, are read for what they teach as well: unpacking one takes
 * about as long as that.
 * @throws the signal's reason
 */
export async function learnTogether(state: State, signal?: AbortSignal): Promise<void> {
  await ofAudience(state).followCatalogueInTurns(state, signal);
  state.shared.kept(READERS[state.audience]);
}

/** Puts a confusion table of the desk's own in place of the standard one, for all questions to come. */
export function setConfusion(view: State, confusion: Confusion): void {
  const both = view.shared.kept(learntBy);
  for (const audience of Object.keys(both) as Audience[]) both[audience] = learnt(new Identifier(confusion));
}

/**
 * The identifier of an audience, in step with what it may see now; a first call yields to others now and then.
 * @throws the signal's reason
 */
export async function identifierOf(view: State, signal?: AbortSignal): Promise<Identifier> {
  const identifier = ofAudience(view);
  await identifier.followInTurns(view, signal);
  view.shared.kept(readHere)[view.audience] = identifier.readings;
  return identifier;
}

/** What of a state such work depends on. */
function keyOf(view: State, { habitsVersion }: Identifier): string {
  return `${view.sequence} ${habitsVersion}`;
}

/**
 * How far the probabilities can be trusted: with devices held out, and with parts held out of the catalogue as well. Costly, so
 * it is worked out once for each state of the archive and sample, however many requests ask; undefined when nothing is settled.
 * @throws RangeError as {@link calibrate}; the signal's reason
 */
export async function calibrationOf(
  view: State,
  { sample, seed, signal, onProgress }: Omit<CalibrationOptions, 'truth'> = {},
): Promise<Trusted | undefined> {
  const identifier = await identifierOf(view, signal);
  const { trusted } = view.shared.kept(learntBy)[view.audience];
  const key = [keyOf(view, identifier), sample, seed].join(' ');
  return trusted.of(key, signal, async (ended) => {
    const draw = { sample, seed, signal: ended };
    const half = (from: number) => (done: number, of: number) => onProgress?.(from * of + done, 2 * of);
    const found = await calibrate(identifier, view, { ...draw, onProgress: half(0) });
    const withoutParts =
      found && (await calibrateWithoutParts(identifier, view, { ...draw, onProgress: half(1) }));
    return found && withoutParts && { ...found, withoutParts };
  });
}

/**
 * Candidates that hold what a component is with a coverage chosen by the asker. What sets are based on is worked out once for each
 * state of the archive.
 * @throws RangeError unless 0 < coverage < 1; the signal's reason
 */
export async function candidateSetOf(
  view: State,
  { opened, component, device }: Placed,
  coverage: number,
  { signal, onProgress }: SetOptions = {},
): Promise<CandidateSet> {
  const identifier = await identifierOf(view, signal);
  const { sets } = view.shared.kept(learntBy)[view.audience];
  const rests = await sets.of(keyOf(view, identifier), signal, (ended) =>
    SetCalibration.of(identifier, view, { signal: ended, onProgress }),
  );
  return rests.setOf(opened, component, device, coverage);
}

/**
 * What a component may be.
 * @param id global id of the component, such as `tarn-sennit-3/a/U3`
 * @throws CasebackError NOT_FOUND when the view holds no such component; BAD_INPUT where nothing is fitted
 */
export async function candidatesOf(view: State, id: string): Promise<Candidates> {
  const { opened, thing } = resolved(view, id, ['Component']);
  const [placed] = inSpecimen(view, opened.id, thing.id);
  if (!placed)
    throw new CasebackError('BAD_INPUT', `Nothing is fitted at ${id}, so there is nothing to identify`);
  const { component, device } = placed;
  const identifier = await identifierOf(view);
  const sighting = sightingOf(placed.opened, component, device);
  const odds = identifier.posteriorOfSighting(sighting, device.id, judgementsOf(placed.opened, component.id));
  const chip = placed.opened.oddsOf(component.id, unnamedIn(view, placed.opened.id));
  return {
    ...placed,
    odds,
    state: stateOf(odds),
    kinds: chip ? kindsOf(chip) : [],
    chip: chip && chipAnswer(placed.opened, chip, sighting),
    disagreement: disagreementOf(placed.opened, component.id, odds),
  };
}

/** What a component may be as recorded, and with what was read of it on a photo beside that. */
export async function oddsWithPhoto(
  view: State,
  { opened, component, device }: Placed,
  channel: PhotoChannel,
): Promise<{ readonly recorded: Posterior; readonly odds: Posterior }> {
  const identifier = await identifierOf(view);
  const sighting = sightingOf(opened, component, device);
  const judgements = judgementsOf(opened, component.id);
  return {
    recorded: identifier.posteriorOfSighting(sighting, device.id, judgements),
    odds: await identifier.posteriorWithPhoto(sighting, channel, device.id, judgements),
  };
}

/**
 * Every recorded identification that the evidence contradicts, the most improbable first. Works out all identified components,
 * once for each state of the archive.
 */
export async function disagreementsOf(
  view: State,
  signal?: AbortSignal,
): Promise<readonly PlacedDisagreement[]> {
  const identifier = await identifierOf(view);
  const kept = view.derived(disagreementsFound);
  // What was worked out with another table of confusions does not count.
  if (kept.by !== identifier) Object.assign(kept, { by: identifier, found: undefined });
  if (kept.found) return kept.found;
  const found: PlacedDisagreement[] = [];
  const pace = new Pace();
  const byRow = view.shared.kept(disagreementsByRow)[view.audience];
  const { habitsVersion } = identifier;
  for (const row of view.specimenRows()) {
    const device = view.device(row.deviceId);
    const before = byRow.get(row);
    let here = before?.found;
    if (
      before?.by !== identifier ||
      before.habitsVersion !== habitsVersion ||
      before.device !== device ||
      !view.unnamed.areCurrent(before.learnt)
    ) {
      here = disagreementsIn(identifier, inSpecimen(view, row.id));
      const learnt = view.specimen(row.id)?.learnt ?? new Set();
      // What was learnt meanwhile is not what all of it was weighed by.
      if (identifier.habitsVersion === habitsVersion)
        byRow.set(row, { by: identifier, habitsVersion, device, learnt, found: here });
    }
    for (const [local, one] of here ?? [])
      for (const placed of inSpecimen(view, row.id, local)) found.push({ ...one, placed });
    await pace.rest();
    if (signal?.aborted) return found;
  }
  const idOf = ({ placed: { opened, component } }: PlacedDisagreement) => thingId(opened.id, component.id);
  found.sort((a, b) => a.probability - b.probability || (idOf(a) < idOf(b) ? -1 : 1));
  kept.found = found;
  return found;
}

/** Of each component of a specimen. Odds are worked out only where a part is recorded. */
function disagreementsIn(
  identifier: Identifier,
  all: readonly Placed[],
): readonly (readonly [component: string, disagreement: Disagreement])[] {
  return all.flatMap((placed) => {
    const { opened, component } = placed;
    if (recordedPartOf(opened, component.id) === undefined) return [];
    const one = disagreementOf(opened, component.id, oddsOf(identifier, placed));
    return one ? [[component.id, one] as const] : [];
  });
}

/** What was found in a specimen, and all that it hangs on besides its row: a change asks anew for what it touches alone. */
interface DisagreementsIn {
  readonly by: Identifier;
  readonly habitsVersion: number;
  readonly device: Device | undefined;
  readonly learnt: OpenedSpecimen['learnt'];
  readonly found: ReturnType<typeof disagreementsIn>;
}
const disagreementsByRow = (): Record<Audience, WeakMap<SpecimenRow, DisagreementsIn>> => ({
  reader: new WeakMap(),
  desk: new WeakMap(),
});

const disagreementsFound = (): { by?: Identifier; found?: readonly PlacedDisagreement[] } => ({});

function chipAnswer(opened: OpenedSpecimen, odds: ChipOdds, sighting: Sighting): ChipAnswer {
  const roles = rolesOf(opened, odds);
  return {
    classes: byName(odds.classes),
    roles,
    sentence: sentenceOf(odds, roles),
    whatWouldSettleIt: classObservations(sighting, odds),
  };
}

/** In plain words. Contested: no candidate is more likely than all others together. */
export function stateOf({ candidates, none }: Posterior): CandidateState {
  const first = candidates[0]?.probability ?? 0;
  if (none > 0.5) return 'not-in-catalogue';
  return first >= 0.95 ? 'all-but-certain' : first > 0.5 ? 'leading' : 'contested';
}

/**
 * What could still be looked at, by bits a minute, for a component, a specimen, a device or a claim (of what the
 * claim is supported by, components alone count).
 * @param among ids of the things to look at, where the id itself refers to others
 * @throws CasebackError NOT_FOUND when the view holds nothing of that id
 */
export async function nextObservationsOf(
  view: State,
  id: string,
  signal?: AbortSignal,
  among: readonly string[] = [id],
): Promise<readonly PlacedObservation[]> {
  const known = new Map(
    among
      .flatMap((one) => componentsUnder(view, one))
      .map((placed) => [thingId(placed.opened.id, placed.component.id), placed]),
  );
  const placed = [...known.values()];
  if (placed.length === 0) throw nothingUnder(view, id);
  const identifier = await identifierOf(view);
  const found: PlacedObservation[] = [];
  const pace = new Pace();
  for (const one of placed) {
    // What is plain to the eye and was never identified as a part needs no part number.
    if (one.component.appears !== undefined && !one.opened.identified.has(one.component.id)) continue;
    const { opened, component, device } = one;
    const sighting = sightingOf(opened, component, device);
    const judgements = judgementsOf(opened, component.id);
    for (const next of identifier.nextObservations(sighting, device.id, judgements))
      found.push({ ...next, placed: one });
    await pace.rest();
    if (signal?.aborted) break;
  }
  return found.sort((a, b) => b.bitsPerMinute - a.bitsPerMinute);
}

function oddsOf(identifier: Identifier, { opened, component, device }: Placed): Posterior {
  return identifier.posteriorOf(opened, component, device);
}

/** Kinds of things that have components under them. */
export const HAS_COMPONENTS = [
  'Component',
  'Observation',
  'Specimen',
  'Device',
  'Decision',
  'Claim',
] as const satisfies readonly ResolvedKind[];

/** That an id has no components under it, though something may have it. */
function nothingUnder(view: State, id: string): CasebackError {
  const found = resolve(view, id);
  if (!found || !(HAS_COMPONENTS as readonly string[]).includes(found.kind))
    return notFound(view, id, HAS_COMPONENTS);
  return new CasebackError('NOT_FOUND', `No component is under "${id}", so there is nothing to look at`);
}

/** Visible components that an id stands for. */
function componentsUnder(view: State, id: string): readonly Placed[] {
  const found = resolve(view, id);
  switch (found?.kind) {
    case 'Component':
      return inSpecimen(view, found.opened.id, found.thing.id);
    case 'Observation': {
      const { about } = found.thing;
      return inSpecimen(view, found.opened.id).filter(({ component }) => about.includes(component.id));
    }
    case 'Specimen':
      return inSpecimen(view, id);
    case 'Device':
      return view.specimensOf(id).flatMap((specimen) => inSpecimen(view, specimen.id));
    case 'Claim':
      // A claim on a whole device would drag in everything; what it names closely counts.
      return found.thing.supportedBy.filter(parseThingId).flatMap((on) => componentsUnder(view, on));
    default:
      return [];
  }
}

function inSpecimen(view: State, specimen: string, local?: string): readonly Placed[] {
  const opened = view.specimen(specimen);
  const device = opened && view.device(recordOfId(specimen));
  if (!opened || !device) return [];
  // A single one is answered for by name, be it only a feature of the board.
  const components = local === undefined ? opened.counted : opened.fitted.filter(({ id }) => id === local);
  return components.map((component) => ({ opened, component, device }));
}

/** What is learnt of unnamed components, for those of a specimen and whatever else could not have been named. */
function unnamedIn(view: State, specimen: string): State['unnamed'] {
  const row = view.specimenRow(specimen);
  return row ? view.unnamed.including(row, view.shared.names) : view.unnamed;
}

import { LRUCache } from 'lru-cache';
import type { Device } from '../model/dossier.ts';
import { isTerm, termInWords } from '../model/taxonomy.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { CERTAIN, POSSIBLE } from '../state/labels.ts';
import { Pace } from '../state/pace.ts';
import { readingsOf } from '../state/readings.ts';
import type { SharedCaches } from '../state/shared-caches.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import { inPercent } from '../text/rounding.ts';
import { type Hiding, hidingOf, notInventoried, unseenInWords, whyHidden, whyUnseen } from './looked-at.ts';
import { type Amount, isPart, NONE, numberOf, type PresenceRow, presenceIn } from './row.ts';

/**
 * Presence of something. CERTAIN: with probability 0.95 or more. POSSIBLE: with 0.05 or more. ABSENT: less likely, in a
 * specimen where it was looked for: its boards are all recorded as fully inventoried, and so on (looked-at.ts).
 * NOT_OBSERVED: less likely, without such a record.
 */
export const VERDICTS = ['CERTAIN', 'POSSIBLE', 'ABSENT', 'NOT_OBSERVED'] as const;
export type Verdict = (typeof VERDICTS)[number];

/** What a specimen has of a term of the taxonomy, a part or a maker's parts. */
export interface Presence extends Amount {
  readonly verdict: Verdict;
}

/** What a device has of it: the maximum of its visible specimens. */
export interface DevicePresence extends Presence {
  /** Whether it is certain in one specimen and absent in another. */
  readonly revisionsDiffer: boolean;
}

/** A term, part or maker to ask about; the same for all specimens of a state. */
export interface Thing {
  readonly name: string;
  /** How it may be there unseen, although every board is inventoried. */
  readonly hiding: Hiding;
  readonly number: number | undefined;
  /** Kinds that an unidentified component must be to be this part; null for a term. */
  readonly kinds: readonly (number | undefined)[] | null;
}

/** A term of the taxonomy to ask about. */
export function thingOfTerm(name: string): Thing {
  return { name, number: numberOf(name), kinds: null, hiding: hidingOf([name]) };
}

/** A term of the taxonomy, or the id of a part or of a maker of parts, to ask about. */
export function thingOf(state: State, name: string): Thing {
  const number = numberOf(name);
  if (isTerm(name)) return thingOfTerm(name);
  const part = isPart(name) ? state.part(name) : undefined;
  const parts = isPart(name)
    ? [...(part ? [part] : [])]
    : state.parts().filter(({ maker }) => maker === name);
  const terms = parts.length > 0 ? parts.flatMap(({ categories }) => categories) : ['Component'];
  const kinds = [...new Set(terms)];
  return { name, number, kinds: kinds.map(numberOf), hiding: hidingOf(kinds) };
}

/** Rows by the columns of a specimen, which are replaced whenever anything in it changes. */
const rows = new WeakMap<SpecimenRow['columns'], PresenceRow>();

/** What a visible specimen may have, read on first use. */
export function presenceRow(state: State, specimen: SpecimenRow): PresenceRow {
  return keptRow(state, specimen) ?? keep(specimen, presenceIn(openedOf(state, specimen)));
}

/** Name of presence rows in a snapshot; what is saved is taken up by being asked for. */
export const PRESENCE = 'presence';
const savedRows = (shared: SharedCaches) => [
  shared.saved(PRESENCE, 'reader'),
  shared.saved(PRESENCE, 'desk'),
];

function keptRow(state: State, specimen: SpecimenRow): PresenceRow | undefined {
  state.shared.kept(savedRows);
  const row = rows.get(specimen.columns);
  return row && state.unnamedOf(specimen).areCurrent(row.learnt) ? row : undefined;
}

function keep({ columns }: SpecimenRow, row: PresenceRow): PresenceRow {
  rows.set(columns, row);
  return row;
}

/** What was read of a specimen, if it is what a state would read. */
export function presenceKept(state: State, specimen: SpecimenRow): PresenceRow | undefined {
  return keptRow(state, specimen);
}

/** Keeps what was read of a specimen in another process. */
export function keepPresence(specimen: SpecimenRow, row: PresenceRow): void {
  keep(specimen, row);
}

function openedOf(state: State, { id }: SpecimenRow): OpenedSpecimen {
  const opened = state.specimen(id);
  if (!opened) throw new Error(`specimen ${id} is not in the state that listed it`);
  return opened;
}

/** Reads specimens for presence whenever dossiers are unpacked for something else. */
const reader = (shared: SharedCaches) =>
  readingsOf(shared).add({
    needs: ({ columns }) => !rows.has(columns),
    take: (row, specimen) => keep(row, presenceIn(specimen)),
  });

/** From now on, dossiers unpacked for something else, such as patterns, are read for presence as well. */
export function readTogether(state: State): void {
  state.shared.kept(savedRows);
  state.shared.kept(reader);
}

/** What one specimen has of a thing. */
export function specimenPresence(row: PresenceRow, thing: Thing): Presence {
  const amount = row.amountOf(thing.number) ?? NONE;
  return { ...amount, verdict: verdictOf(row, thing, amount.probability) };
}

function verdictOf(row: PresenceRow, { kinds, hiding }: Thing, probability: number): Verdict {
  if (probability >= CERTAIN) return 'CERTAIN';
  if (probability >= POSSIBLE) return 'POSSIBLE';
  if (!row.inventoried || !row.lists || whyUnseen(hiding, row)) return 'NOT_OBSERVED';
  return kinds?.some((kind) => row.openOf(kind) >= POSSIBLE) ? 'NOT_OBSERVED' : 'ABSENT';
}

/** @param absent whether it is known not to be there where it is less likely than possible */
export function verdictFrom(probability: number, absent: boolean): Verdict {
  if (probability >= CERTAIN) return 'CERTAIN';
  if (probability >= POSSIBLE) return 'POSSIBLE';
  return absent ? 'ABSENT' : 'NOT_OBSERVED';
}

/**
 * What a device has, from its visible specimens. One editor's misreadings are not independent, so several specimens
 * make nothing likelier: the maximum of their probabilities counts, with the numbers of the specimen that has the
 * highest expectation. Absent when it is absent in some specimen and possible in none.
 */
export function together(of: readonly PresenceRow[], thing: Thing): DevicePresence {
  let probability = 0;
  let maximum = NONE;
  let absent = false;
  for (const row of of) {
    const amount = row.amountOf(thing.number) ?? NONE;
    if (amount.expected > maximum.expected) maximum = amount;
    if (amount.probability > probability) probability = amount.probability;
    if (amount.probability < POSSIBLE && !absent) absent = verdictOf(row, thing, 0) === 'ABSENT';
  }
  const verdict = verdictFrom(probability, absent);
  const { expected, variance, certain, likely, possible } = maximum;
  const revisionsDiffer = verdict === 'CERTAIN' && absent;
  return { probability, expected, variance, certain, likely, possible, verdict, revisionsDiffer };
}

/**
 * The largest number of such components that a device may have: all that are possible and all that nobody named, in the
 * specimen with the most; infinite where no specimen was looked at for all of them.
 * @param thing a term of the taxonomy
 */
export function mostOf(of: readonly PresenceRow[], { name, number, hiding }: Thing): number {
  const isKnown = of.some((row) => row.lists && row.inventoried && !whyHidden(hiding, row));
  if (!isKnown) return Number.POSITIVE_INFINITY;
  return of.reduce(
    (most, row) => Math.max(most, (row.amountOf(number)?.possible ?? 0) + row.unnamedCount(name)),
    0,
  );
}

export const NO_SPECIMEN = 'no specimen of the device was opened';

/** Why something is certain or possible, in a sentence. */
export function foundInWords(what: string, probability: number): string {
  const percent = `${Number(inPercent(probability, probability >= 0.1 ? 0 : 1))} %`;
  return `${what}, with a probability of ${probability >= 0.995 && probability < 1 ? 'more than 99 %' : percent}`;
}

/** Why a verdict about a thing is as it is, in a sentence. */
export function whyPresence(
  of: readonly PresenceRow[],
  { name, number, hiding, kinds }: Thing,
  { verdict, probability }: Pick<DevicePresence, 'verdict' | 'probability'>,
): string {
  const spoken = isTerm(name) ? termInWords(name) : name;
  switch (verdict) {
    case 'CERTAIN':
    case 'POSSIBLE': {
      const most = of.reduce((sum, row) => Math.max(sum, row.amountOf(number)?.possible ?? 0), 0);
      // Several that are each less likely than 0.05 may be possible together.
      if (most === 0) return foundInWords('one of several components may be one', probability);
      return foundInWords(
        most === 1 ? '1 component is or may be one' : `${most} components are or may be one`,
        probability,
      );
    }
    case 'ABSENT':
      return `no ${spoken} is recorded, and every board is fully inventoried`;
    case 'NOT_OBSERVED': {
      if (of.length === 0) return NO_SPECIMEN;
      for (const row of of) {
        const short = notInventoried(row);
        if (short) return `no ${spoken} is recorded, and ${short}`;
        const unseen = whyUnseen(hiding, row);
        if (unseen) return `no ${spoken} is recorded, ${unseenInWords(unseen)}`;
        if (kinds?.some((kind) => row.openOf(kind) >= POSSIBLE))
          return `no ${spoken} is recorded, ${unseenInWords({ kind: 'unidentified' })}`;
      }
      return `no ${spoken} is recorded`;
    }
    default:
      return verdict satisfies never;
  }
}

/** What one device has of a thing; reads only the dossiers of its visible specimens. */
export function devicePresence(state: State, deviceId: string, name: string): DevicePresence {
  return together(
    state.specimensOf(deviceId).map((row) => presenceRow(state, row)),
    thingOf(state, name),
  );
}

/** Names whose answers for all devices are kept; one takes about 100 bytes a device. */
const KEPT_NAMES = 16;

/** What every visible device may have, at one instant. */
export class ArchivePresence {
  readonly #state: State;
  readonly #rows: ReadonlyMap<string, readonly PresenceRow[]>;
  readonly #found = new LRUCache<string, ReadonlyMap<string, DevicePresence>>({ max: KEPT_NAMES });

  constructor(state: State, of: ReadonlyMap<string, readonly PresenceRow[]>) {
    this.#state = state;
    this.#rows = of;
  }

  /** What each visible device with a specimen has of a term, part or maker, by device id. */
  of(name: string): ReadonlyMap<string, DevicePresence> {
    const kept = this.#found.get(name);
    if (kept) return kept;
    const thing = thingOf(this.#state, name);
    const found = new Map<string, DevicePresence>();
    for (const [id, of] of this.#rows) found.set(id, together(of, thing));
    this.#found.set(name, found);
    return found;
  }

  /** The largest number of components of a term that each visible device with a specimen may have: {@link mostOf}. */
  most(term: string): ReadonlyMap<string, number> {
    const thing = thingOf(this.#state, term);
    return new Map(Array.from(this.#rows, ([id, of]) => [id, mostOf(of, thing)] as const));
  }

  /** What a visible device has; not observed without a specimen. */
  device(id: string, thing: Thing): DevicePresence {
    return together(this.#rows.get(id) ?? [], thing);
  }

  /** Devices that have or may have it: with probability 0.05 or more. */
  having(name: string): ReadonlySet<string> {
    const number = numberOf(name);
    const found = new Set<string>();
    for (const [id, of] of this.#rows)
      if (of.some((row) => row.probabilityOf(number) >= POSSIBLE)) found.add(id);
    return found;
  }
}

/**
 * What the visible devices may have. Reads every dossier on first use, later only those that changed.
 * @throws the signal's reason once it is aborted
 */
export async function presenceOf(state: State, signal?: AbortSignal): Promise<ArchivePresence> {
  const kept = state.derived(keptPresence);
  if (kept.presence) return kept.presence;
  await state.shared.kept(reader)(state, signal);
  const pace = new Pace(signal);
  const byDevice = new Map<string, PresenceRow[]>();
  for (const specimen of state.specimenRows()) {
    const row = keptRow(state, specimen) ?? keep(specimen, presenceIn(state.peek(specimen)));
    const before = byDevice.get(specimen.deviceId);
    if (before) before.push(row);
    else byDevice.set(specimen.deviceId, [row]);
    await pace.rest();
  }
  kept.presence = new ArchivePresence(state, byDevice);
  return kept.presence;
}

const keptPresence = (): { presence?: ArchivePresence } => ({});

/** What devices must have: a part, by id, and a component of a term of the taxonomy. */
export interface PresenceFilter {
  readonly hasPart?: string | null;
  readonly hasCategory?: string | null;
}

/** Visible devices that certainly or possibly have everything asked for; undefined for an empty filter. */
export async function devicesHaving(
  state: State,
  { hasPart, hasCategory }: PresenceFilter,
  signal?: AbortSignal,
): Promise<ReadonlySet<string> | undefined> {
  const asked = [hasPart, hasCategory].flatMap((name) => name || []);
  if (asked.length === 0) return undefined;
  const presence = await presenceOf(state, signal);
  const [first, ...others] = asked.map((name) => presence.having(name));
  return new Set([...first].filter((id) => others.every((ids) => ids.has(id))));
}

/** Visible specimens that certainly or possibly have a part. */
export function specimensHaving(state: State, part: string): readonly SpecimenRow[] {
  return state
    .holdersOf(part)
    .filter((row) => presenceRow(state, row).probabilityOf(numberOf(part)) >= POSSIBLE);
}

/** Probability that a device has each part, and a part of each maker; impossible ones are left out. */
export interface PartsAndMakers {
  readonly device: Device;
  readonly parts: ReadonlyMap<string, number>;
  readonly makers: ReadonlyMap<string, number>;
}

/** Parts that a device may have, from the dossiers of its visible specimens, combined as in {@link together}. */
export function partsAndMakers(state: State, device: Device): PartsAndMakers {
  const parts = new Map<string, number>();
  const makers = new Map<string, number>();
  for (const specimen of state.specimensOf(device.id)) {
    for (const [name, probability] of presenceRow(state, specimen).all()) {
      if (isTerm(name)) continue;
      const of = isPart(name) ? parts : makers;
      of.set(name, Math.max(of.get(name) ?? 0, probability));
    }
  }
  return { device, parts, makers };
}

// What was ever written about something, and when it counts as written.

import type { Archive } from '../archive.ts';
import { localIds } from '../dossier/check/local-ids.ts';
import { claimIdOf, type Publication, recordId } from '../model/catalogue.ts';
import { type Amendment, subjectOf as amended } from '../model/correction.ts';
import { deviceIdOf, specimenIdOf } from '../model/dossier.ts';
import type { Entry } from '../model/entry.ts';
import {
  componentMeant,
  decisionId,
  isInside,
  lastOfId,
  parseThingId,
  specimenOfId,
  TEARDOWN,
  thingId,
} from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import { didYouMean } from '../text/near.ts';

/**
 * Every entry about a thing, oldest first: about itself, about what lies inside it, and what filed the dossier or publication
 * that holds it.
 * @param id of a catalogue record, device, specimen, claim, decision or correction, or of anything inside a dossier; a component
 * with or without its board
 * @param batches all entries of a journal in order, or those that may be about it
 * @param known ids that entries are about, for names near a mistyped one
 * @throws CasebackError NOT_FOUND when no entry was ever about it
 */
export async function entriesAbout(
  id: string,
  batches: AsyncIterable<readonly Entry[]>,
  known: () => Iterable<string>,
): Promise<readonly Entry[]> {
  const about = new About(id);
  const found: Entry[] = [];
  for await (const entries of batches) for (const entry of entries) if (about.takes(entry)) found.push(entry);
  if (found.length > 0 && about.isKnown) return found;
  const inside = about.locals.size > 0;
  const near = inside ? didYouMean(lastOfId(id), about.locals) : didYouMean(id, known());
  throw new CasebackError(
    'NOT_FOUND',
    `${inside ? `nothing in ${specimenOfId(id)} was ever called "${lastOfId(id)}"` : `no entry is about "${id}"`}${near ? `; ${near}` : ''}`,
  );
}

/**
 * The entries about a thing, from the journal of an archive, each with the instant from which it counts.
 * @throws CasebackError NOT_FOUND; the signal's reason
 */
export async function historyOf(archive: Archive, id: string, signal?: AbortSignal) {
  const past = await archive.past(signal);
  const entries = await entriesAbout(id, past.entriesNaming(id), () => past.subjects());
  return entries.map((entry) => ({
    ...entry,
    subject: subjectOf(entry),
    countsFrom: past.timeline.instantOf(entry.sequence) ?? entry.instant,
  }));
}

/** Tells entries about one thing from others, as they come in order. */
class About {
  readonly #id: string;
  /** The id under which dossiers have what was asked about. */
  #recorded: string;
  readonly #isThing: boolean;
  /** Local ids of everything that its specimen ever had. */
  readonly locals = new Set<string>();

  constructor(id: string) {
    this.#id = id;
    this.#recorded = id;
    this.#isThing = parseThingId(id) !== undefined;
  }

  /** Whether there ever was such a thing: an entry that files a dossier is about everything in it. */
  get isKnown(): boolean {
    return !this.#isThing || this.locals.has(lastOfId(this.#recorded));
  }

  takes(entry: Entry): boolean {
    if (this.#isThing) for (const local of localsIn(entry, specimenOfId(this.#id))) this.locals.add(local);
    this.#recorded = recordedAs(this.#id, entry) ?? this.#recorded;
    // A dossier is about what it has, and about what it no longer has.
    if (this.#isThing && entry.kind === 'dossier-put')
      return this.isKnown && isInside(this.#recorded, subjectOf(entry));
    return concerns(entry, this.#recorded);
  }
}

/** The id under which a dossier has the component that an id means, when the entry is that dossier. */
function recordedAs(id: string, entry: Entry): string | undefined {
  const thing = parseThingId(id);
  if (!thing || entry.kind !== 'dossier-put' || specimenIdOf(entry.payload) !== specimenOfId(id))
    return undefined;
  const meant = componentMeant(entry.payload.components, thing.local);
  return meant && thingId(specimenOfId(id), meant.id);
}

/** Local ids of a specimen that an entry brings. */
function localsIn(entry: Entry, specimen: string): readonly string[] {
  if (entry.kind === 'dossier-put')
    return specimenIdOf(entry.payload) === specimen
      ? [TEARDOWN, ...localIds(entry.payload).map((one) => one.id)]
      : [];
  if (entry.kind === 'observation-recorded')
    return entry.payload.specimen === specimen ? [entry.payload.observation.id] : [];
  if (entry.kind === 'photo-recorded')
    return entry.payload.specimen === specimen ? [entry.payload.photo.id] : [];
  return [];
}

/** Global id of what an entry is about; for a correction of the clock, the entries that it re-dates. */
export function subjectOf(entry: Entry): string {
  switch (entry.kind) {
    case 'record-put':
      return recordId(entry.payload.collection, entry.payload.record);
    case 'dossier-put':
      return specimenIdOf(entry.payload);
    case 'observation-recorded':
      return thingId(entry.payload.specimen, entry.payload.observation.id);
    case 'observation-withdrawn':
      return thingId(entry.payload.specimen, entry.payload.observation);
    case 'identification-set':
      return thingId(entry.payload.specimen, entry.payload.identification.component);
    case 'identification-judged':
      return thingId(entry.payload.specimen, entry.payload.judgement.component);
    case 'decision-judged':
      return decisionId(entry.payload.device, entry.payload.pattern);
    case 'correction-made':
      return entry.payload.id;
    case 'recalled':
      return entry.payload.ids[0];
    case 'photo-kept':
      return thingId(entry.payload.specimen, entry.payload.photos[0]);
    case 'photo-recorded':
      return thingId(entry.payload.specimen, entry.payload.photo.id);
    case 'clock-corrected':
      return `entries ${entry.payload.first} to ${entry.payload.last}`;
    default:
      return entry satisfies never;
  }
}

/** The device, specimen or part that an amendment is about, and the thing in it. */
function namedIn(amendment: Amendment): readonly string[] {
  const holder = amended(amendment);
  if ('identify' in amendment) return [holder, thingId(holder, amendment.identify.component)];
  if ('observe' in amendment)
    return [holder, ...amendment.observe.about.map((local) => thingId(holder, local))];
  return [holder, 'withdraw' in amendment ? amendment.withdraw.observation : amendment.value.of];
}

/** Whether an entry is about an id, something inside it, or the dossier or publication that holds it. */
function concerns(entry: Entry, id: string): boolean {
  const subject = subjectOf(entry);
  if (subject === id || isInside(subject, id)) return true;
  switch (entry.kind) {
    case 'dossier-put':
      return deviceIdOf(entry.payload) === id;
    case 'record-put': {
      const { collection, record } = entry.payload;
      return (
        collection === 'publications' &&
        (record as Publication).claims.some((claim) => claimIdOf(record as Publication, claim) === id)
      );
    }
    case 'observation-recorded':
      return entry.payload.observation.about.some((local) => thingId(entry.payload.specimen, local) === id);
    case 'observation-withdrawn':
    case 'identification-set':
    case 'identification-judged':
    case 'clock-corrected':
      return false;
    case 'photo-recorded':
      return entry.payload.photo.regions.some(({ of }) => thingId(entry.payload.specimen, of) === id);
    case 'recalled':
      return entry.payload.ids.some((one) => one === id || isInside(id, one));
    case 'photo-kept':
      return entry.payload.photos.some((local) => thingId(entry.payload.specimen, local) === id);
    case 'decision-judged':
      return entry.payload.device === id || entry.payload.pattern === id;
    case 'correction-made': {
      const { amendment, publications } = entry.payload;
      return (
        namedIn(amendment).includes(id) ||
        publications.some(
          ({ publication, claims }) => publication === id || claims.some(({ claim }) => claim === id),
        )
      );
    }
    default:
      return entry satisfies never;
  }
}

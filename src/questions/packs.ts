// Packs of publications for readers. The code is loaded on first use.

import { createHash } from 'node:crypto';
import type { Archive } from '../archive.ts';
import { parseThingId, recordOfId, specimenOfId } from '../model/ids.ts';
import { isTerm } from '../model/taxonomy.ts';
import type { Compared } from '../pack/compare.ts';
import type { PackContents, PackPages, PackSettings } from '../pack/contents.ts';
import type { Pack } from '../pack/pack.ts';
import type { PhotoFiles } from '../pack/photos.ts';
import type { PackState } from '../pack/statement.ts';
import type { Verification } from '../pack/verify.ts';
import type { State } from '../state/state.ts';
import type { Audience } from '../state/visibility/audience.ts';
import { orderFreeText } from '../text/member-order.ts';
import { chartSourceOf } from './charts.ts';
import { archiveCitation } from './citation.ts';
import { subjectOf } from './history.ts';

/** What whoever makes a pack decides. */
export interface PackWishes {
  readonly state: PackState;
  readonly pages: PackPages;
  readonly licence?: string | undefined;
  readonly photos?: PhotoFiles | undefined;
}

/**
 * The pack of a publication.
 * @throws CasebackError NOT_FOUND when nothing visible has the id, OUT_OF_BUDGET or UNAVAILABLE of a drawing; the signal's reason
 */
export async function packOfPublication(
  view: State,
  publication: string,
  wishes: PackWishes,
  signal?: AbortSignal,
): Promise<Pack> {
  const { packOf } = await import('../pack/pack.ts');
  return packOf(view, publication, settingsOf(view, wishes), signal);
}

/** What the pack of a publication would hold. @throws CasebackError NOT_FOUND; the signal's reason */
export async function contentsOfPack(
  view: State,
  publication: string,
  wishes: PackWishes,
  signal?: AbortSignal,
): Promise<PackContents> {
  const { contentsOf } = await import('../pack/contents.ts');
  return contentsOf(view, publication, { ...settingsOf(view, wishes), isRead: false }, signal);
}

/** Digest of what is calculated for a pack, in hexadecimal: equal as long as its sentences, their support and its figures are. */
export async function digestOfPack({ statement, files }: PackContents): Promise<string> {
  const tables: [path: string, text: string | Uint8Array][] = [];
  for (const { path, make } of files) if (path.startsWith('figures/')) tables.push([path, await make()]);
  return createHash('sha256')
    .update(orderFreeText([statement.sentences, tables]))
    .digest('hex');
}

/**
 * What of the pack of a publication reads otherwise in a state than in an earlier one.
 * @param instant of the earlier one
 * @throws the signal's reason
 */
export async function changesOfPack(
  before: State,
  now: State,
  publication: string,
  instant: string,
  signal?: AbortSignal,
): Promise<readonly (Compared & { readonly because: readonly string[] })[]> {
  const { changesBetween } = await import('../pack/verify.ts');
  return changesBetween(before, now, publication, { instant, name: null }, signal);
}

function settingsOf(view: State, wishes: PackWishes): PackSettings {
  const { instant } = wishes.state;
  return {
    ...wishes,
    source: chartSourceOf(view, instant.slice(0, 10)),
    archive: archiveCitation(view, instant),
  };
}

/** Tells the state that a sealed name stands for, as an audience sees it; undefined where the name is not one of this archive. */
export type StateNamed = (name: string, audience: Audience) => Promise<State | undefined>;

/** How a pack is held against an archive. */
export interface VerifyWishes {
  /** As whom; as whom the pack was made when left out. */
  readonly audience?: Audience | undefined;
  readonly stateNamed: StateNamed;
  /** Whether entries that nobody but the desk may know of are told as reasons. */
  readonly tellsEntries: boolean;
}

/**
 * Holds a pack, a folder or ZIP, to its digests, and what it says to the archive as it is now and as it stood.
 * @throws CasebackError BAD_FILE for what cannot be read, or not safely; the signal's reason
 */
export async function verifyPackAt(
  archive: Archive,
  place: string,
  { audience, stateNamed, tellsEntries }: VerifyWishes,
  signal?: AbortSignal,
): Promise<Verification> {
  const [{ readPack }, { verified }] = await Promise.all([
    import('../pack/read-pack.ts'),
    import('../pack/verify.ts'),
  ]);
  const pack = await readPack(place);
  return verified(
    pack,
    async ({ audience: madeFor, name, instant }) => {
      const who = audience ?? madeFor;
      const now = archive.state(who);
      return {
        now,
        before: name === null ? undefined : await stateNamed(name, who),
        reasons: tellsEntries ? (support) => entriesSince(archive, support, instant, signal) : async () => [],
      };
    },
    signal,
  );
}

/** Entries told of one sentence. */
const MOST_ENTRIES = 5;

/** Entries after an instant about devices, parts and sources under a sentence, in words. */
async function entriesSince(
  archive: Archive,
  support: readonly string[],
  instant: string,
  signal?: AbortSignal,
): Promise<readonly string[]> {
  const past = await archive.past(signal);
  const about = new Set(
    support.flatMap((id) =>
      isTerm(id) || id.startsWith('figure ')
        ? []
        : [id, recordOfId(id), ...(parseThingId(id) ? [specimenOfId(id)] : [])],
    ),
  );
  const found = new Map<number, string>();
  for (const id of about)
    for await (const entries of past.entriesNaming(id))
      for (const entry of entries)
        if (entry.instant > instant && entry.kind !== 'correction-made')
          found.set(
            entry.sequence,
            `entry ${entry.sequence}, ${entry.instant.slice(0, 10)}: ${entry.kind} of ${subjectOf(entry)} by ${entry.actor}: ${entry.reason}`,
          );
  const inOrder = [...found].sort(([a], [b]) => a - b).map(([, told]) => told);
  const more = inOrder.length - MOST_ENTRIES;
  return more > 0 ? [...inOrder.slice(0, MOST_ENTRIES), `and ${more} more entries`] : inOrder;
}

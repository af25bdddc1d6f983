import { createHash } from 'node:crypto';
import type { CopiedJournal, Head, Journal, KeptKey } from './journal.ts';
import { PhotoDigests } from './photo-digests.ts';
import type { StoredEntry } from './stored.ts';

// A backup is one stream of lines of JSON, the same for every store, so that it can be restored into another one:
//
//   {"caseback":"backup","version":2,"archive":"…","madeOn":"…","entries":N,"head":"…"}
//   {"file":"confusion.yaml","content":"…"}                a file of the data folder, in base64
//   {"sequence":1,"id":"…",…,"payload":"…","hash":"…"}     entries as stored, with the text that their hashes cover
//   {"key":"…","fingerprint":"…","first":1,"last":3}       idempotency keys, and the entries that each is of
//   {"photo":"…","piece":1,"of":2,"content":"…"}         files of photos by their digests, in pieces, in base64
//   {"end":N,"sha256":"…"}                                 number of lines before, and the digest of their bytes
//
// Version 1 had no keys, version 2 no photos. Entries up to a head never change and are never removed, so reading up to the head that was the last when the backup
// began gives one instant of the archive, whatever is appended meanwhile, and holds up nobody.

export const BACKUP_VERSION = 3;

/** The first line of a backup. */
export interface BackupHeader {
  readonly caseback: 'backup';
  readonly version: number;
  /** Identity of the archive. */
  readonly archive: string;
  /** ISO 8601 in UTC. */
  readonly madeOn: string;
  readonly entries: number;
  /** Hash of the last entry. */
  readonly head: string;
}

/** A file of the data folder that belongs to the archive. */
export interface KeptFile {
  /** Name inside the data folder, without a path. */
  readonly name: string;
  readonly content: Uint8Array;
}

/** Where the files of photos are read. */
export interface BackedUpPhotos {
  /** The bytes under a digest (SHA-256, hexadecimal); undefined where there are none. */
  get(sha256: string): Promise<Uint8Array | undefined>;
}

/** A backup that was made. */
export interface MadeBackup extends BackupHeader {
  /** Number of files of photos in it. */
  readonly photos: number;
  /** Photos whose files are missing or altered, so that they are not in it. */
  readonly photosLeftOut: readonly string[];
}

/** Bytes of a photo in one line. */
const PIECE = 768 * 1024;

/** Characters after which lines are handed on. */
const CHUNK = 256 * 1024;

/**
 * The text of a backup of everything that a journal holds now, in pieces.
 * @param photos files of the photos that entries say the archive has
 * @param onProgress called with the number of entries written so far
 * @returns what was made, once the last piece was taken
 * @throws DamagedEntry where an entry cannot be read; Error when the journal has fewer entries than its head says
 */
export async function* backupOf(
  journal: Journal,
  files: readonly KeptFile[],
  madeOn: Date,
  photos?: BackedUpPhotos,
  onProgress?: (entries: number) => void,
): AsyncGenerator<string, MadeBackup> {
  const held = await journal.hold?.();
  try {
    return yield* linesOf(held ?? journal, files, madeOn, photos, onProgress);
  } finally {
    await held?.release();
  }
}

async function* linesOf(
  journal: CopiedJournal,
  files: readonly KeptFile[],
  madeOn: Date,
  photos: BackedUpPhotos | undefined,
  onProgress?: (entries: number) => void,
): AsyncGenerator<string, MadeBackup> {
  const [head, archive] = [await journal.head(), await journal.identity()];
  if (archive === undefined) throw new Error('a journal without a store has nothing to back up');
  const header: BackupHeader = {
    caseback: 'backup',
    version: BACKUP_VERSION,
    archive,
    madeOn: madeOn.toISOString(),
    entries: head.sequence,
    head: head.hash,
  };
  const digest = createHash('sha256');
  let lines = 0;
  let text = '';
  const add = (line: unknown) => {
    text += `${JSON.stringify(line)}\n`;
    lines++;
  };
  const taken = () => {
    const whole = text;
    digest.update(whole);
    text = '';
    return whole;
  };
  add(header);
  for (const { name, content } of files)
    add({ file: name, content: Buffer.from(content).toString('base64') });
  const digests = new PhotoDigests();
  let last: Head = { sequence: 0, hash: '' };
  for await (const entries of journal.readStored()) {
    for (const entry of entries) {
      if (entry.sequence > head.sequence) break;
      add(entry satisfies StoredEntry);
      digests.add(entry);
      last = entry;
      if (text.length > CHUNK) yield taken();
    }
    onProgress?.(last.sequence);
    if (last.sequence >= head.sequence) break;
  }
  if (last.sequence !== head.sequence || (head.sequence > 0 && last.hash !== head.hash))
    throw new Error(`the journal ends with entry ${last.sequence}, although its last is ${head.sequence}`);
  for (const key of await journal.keys()) if (key.last <= head.sequence) add(key satisfies KeptKey);
  const left: string[] = [];
  let kept = 0;
  for (const [photo, names] of digests) {
    const content = await photos?.get(photo);
    if (!content || createHash('sha256').update(content).digest('hex') !== photo) {
      left.push(...names);
      continue;
    }
    kept++;
    const of = Math.ceil(content.length / PIECE);
    for (let piece = 1; piece <= of; piece++) {
      const bytes = content.subarray((piece - 1) * PIECE, piece * PIECE);
      add({ photo, piece, of, content: Buffer.from(bytes).toString('base64') });
      if (text.length > CHUNK) yield taken();
    }
  }
  const rest = taken();
  yield `${rest}${JSON.stringify({ end: lines, sha256: digest.digest('hex') })}\n`;
  return { ...header, photos: kept, photosLeftOut: left };
}

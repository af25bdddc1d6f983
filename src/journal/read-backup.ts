import { createHash } from 'node:crypto';
import { CasebackError } from '../model/problems.ts';
import { BACKUP_VERSION, type BackupHeader, type KeptFile } from './backup.ts';
import { NotJson } from './canonical.ts';
import { type KeptKey, NO_HASH } from './journal.ts';
import { hashOf, type StoredEntry } from './stored.ts';

/** Maximum length of a line, in bytes: an entry of the largest file that can be imported, with room to spare. */
const MAX_LINE = 128 * 1024 * 1024;
/** Entries handed on at once. */
const BATCH = 500;

/** A backup while it is read. */
export interface OpenedBackup {
  readonly header: BackupHeader;
  /** Files of the data folder; complete once the entries were read. */
  readonly files: readonly KeptFile[];
  /** Idempotency keys; complete once the entries were read. */
  readonly keys: readonly KeptKey[];
  /**
   * Its entries, each checked against the one before. Reading them to the end has checked the whole backup.
   * @throws CasebackError BAD_INPUT, naming the line, where it is not whole
   */
  readonly entries: AsyncIterable<readonly StoredEntry[]>;
}

/**
 * Opens a backup from its bytes, decompressed.
 * @param keepPhoto called with the file of each photo, whole and as its digest says, while the entries are read
 * @throws CasebackError BAD_INPUT when it is no backup, or of a later version
 */
export async function openBackup(
  bytes: AsyncIterable<Uint8Array>,
  keepPhoto: KeepPhoto = async () => undefined,
): Promise<OpenedBackup> {
  const lines = linesOf(bytes);
  const first = await lines.next();
  const header = first.done ? undefined : headerIn(first.value);
  if (first.done || !header)
    throw refused('it is not a backup of Caseback: its first line does not say so; name another file');
  if (header.version > BACKUP_VERSION)
    throw refused(
      `it is of version ${header.version}, and this program reads versions up to ${BACKUP_VERSION}; use a newer program`,
    );
  const files: KeptFile[] = [];
  const keys: KeptKey[] = [];
  const digest = createHash('sha256').update(first.value).update('\n');
  return { header, files, keys, entries: entriesOf(header, { files, keys, keepPhoto }, lines, digest) };
}

async function* entriesOf(
  header: BackupHeader,
  { files, keys, keepPhoto }: Taken,
  lines: AsyncIterable<Buffer>,
  digest: ReturnType<typeof createHash>,
): AsyncGenerator<readonly StoredEntry[]> {
  let line = 1;
  let last: Pick<StoredEntry, 'sequence' | 'hash'> = { sequence: 0, hash: NO_HASH };
  let batch: StoredEntry[] = [];
  let isEnded = false;
  const known = new Set<string>();
  let open: OpenPhoto | undefined;
  for await (const text of lines) {
    line++;
    const damaged = (why: string) => refused(`line ${line} ${why}; use another backup`);
    if (isEnded) throw damaged('stands behind its end');
    const content = objectIn(text);
    if (!content) throw damaged('cannot be read');
    if ('end' in content) {
      if (content.end !== line - 1)
        throw damaged(`says that ${content.end} lines come before, not ${line - 1}`);
      if (content.sha256 !== digest.digest('hex'))
        throw damaged('does not fit what stands above: it was altered');
      isEnded = true;
      continue;
    }
    digest.update(text).update('\n');
    if ('file' in content) {
      const { file: name, content: written } = content;
      if (typeof name !== 'string' || typeof written !== 'string' || !/^[\w-][\w.-]*$/u.test(name))
        throw damaged('is not a valid file of a data folder');
      files.push({ name, content: Buffer.from(written, 'base64') });
      continue;
    }
    if ('key' in content) {
      if (!isKeptKey(content) || content.last > header.entries || known.has(content.key))
        throw damaged('is not a valid idempotency key');
      known.add(content.key);
      keys.push(content);
      continue;
    }
    if ('photo' in content) {
      if (!isPiece(content) || (open ? !isNext(open, content) : content.piece !== 1))
        throw damaged('is not a valid piece of a photo');
      open ??= { photo: content.photo, of: content.of, pieces: [] };
      open.pieces.push(Buffer.from(content.content, 'base64'));
      if (open.pieces.length < open.of) continue;
      const whole = Buffer.concat(open.pieces);
      if (createHash('sha256').update(whole).digest('hex') !== open.photo)
        throw damaged('ends a photo that does not match its digest: it was altered');
      await keepPhoto(open.photo, whole);
      open = undefined;
      continue;
    }
    if (!isStoredEntry(content)) throw damaged('is not a valid entry');
    if (content.sequence !== last.sequence + 1 || content.previousHash !== last.hash)
      throw damaged(`has entry ${content.sequence}, which does not follow entry ${last.sequence}`);
    if (!hasItsHash(content))
      throw damaged(`has entry ${content.sequence}, whose hash does not match its content: it was altered`);
    last = content;
    if (batch.push(content) === BATCH) {
      yield batch;
      batch = [];
    }
  }
  if (!isEnded) throw refused(`it was cut off behind line ${line}; use another backup`);
  if (last.sequence !== header.entries || last.hash !== header.head)
    throw refused(
      `it should end with entry ${header.entries}, and ends with ${last.sequence}; use another backup`,
    );
  if (batch.length > 0) yield batch;
}

/** Takes the file of a photo out of a backup. */
export type KeepPhoto = (sha256: string, content: Uint8Array) => Promise<void>;

/** What is taken out of a backup beside its entries. */
interface Taken {
  readonly files: KeptFile[];
  readonly keys: KeptKey[];
  readonly keepPhoto: KeepPhoto;
}

/** A photo of which not all pieces were read yet. */
interface OpenPhoto {
  readonly photo: string;
  readonly of: number;
  readonly pieces: Buffer[];
}

interface Piece {
  readonly photo: string;
  readonly piece: number;
  readonly of: number;
  readonly content: string;
}

/** More pieces than any photo has. */
const MOST_PIECES = 1_000;

function isPiece(found: object): found is Piece {
  const { photo, piece, of, content } = found as Partial<Piece>;
  return (
    typeof photo === 'string' &&
    /^[0-9a-f]{64}$/u.test(photo) &&
    Number.isSafeInteger(piece) &&
    Number.isSafeInteger(of) &&
    (of as number) <= MOST_PIECES &&
    typeof content === 'string'
  );
}

const isNext = (open: OpenPhoto, { photo, piece, of }: Piece) =>
  photo === open.photo && of === open.of && piece === open.pieces.length + 1;

async function* linesOf(bytes: AsyncIterable<Uint8Array>): AsyncGenerator<Buffer> {
  let open: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of bytes) {
    let from = 0;
    for (let end = chunk.indexOf(10); end >= 0; end = chunk.indexOf(10, from)) {
      yield Buffer.concat([...open, chunk.subarray(from, end)]);
      open = [];
      length = 0;
      from = end + 1;
    }
    open.push(chunk.subarray(from));
    length += chunk.length - from;
    if (length > MAX_LINE) throw refused('it has a line longer than any entry; name another file');
  }
  if (length > 0) yield Buffer.concat(open);
}

function headerIn(line: Buffer): BackupHeader | undefined {
  const found = objectIn(line) as Partial<BackupHeader> | undefined;
  const isOurs =
    found?.caseback === 'backup' &&
    Number.isInteger(found.version) &&
    typeof found.archive === 'string' &&
    typeof found.madeOn === 'string' &&
    Number.isInteger(found.entries) &&
    typeof found.head === 'string';
  return isOurs ? (found as BackupHeader) : undefined;
}

function objectIn(line: Buffer): Record<string, unknown> | undefined {
  try {
    const found: unknown = JSON.parse(line.toString('utf8'));
    return typeof found === 'object' && found !== null && !Array.isArray(found)
      ? (found as Record<string, unknown>)
      : undefined;
  } catch {
    return undefined;
  }
}

const TEXTS = ['id', 'instant', 'actor', 'reason', 'kind', 'payload', 'previousHash', 'hash'] as const;

function isStoredEntry(found: object): found is StoredEntry {
  const entry = found as Record<string, unknown>;
  return (
    Number.isInteger(entry.sequence) &&
    Number.isInteger(entry.version) &&
    TEXTS.every((name) => typeof entry[name] === 'string')
  );
}

function isKeptKey(found: object): found is KeptKey {
  const { key, fingerprint, first, last } = found as Partial<KeptKey>;
  return (
    typeof key === 'string' &&
    typeof fingerprint === 'string' &&
    Number.isSafeInteger(first) &&
    Number.isSafeInteger(last) &&
    (first as number) >= 1 &&
    (last as number) >= (first as number) - 1
  );
}

function hasItsHash(entry: StoredEntry): boolean {
  try {
    return hashOf(entry) === entry.hash;
  } catch (error) {
    if (error instanceof NotJson) return false;
    throw error;
  }
}

function refused(why: string): CasebackError {
  return new CasebackError('BAD_INPUT', `The backup cannot be restored: ${why}`);
}

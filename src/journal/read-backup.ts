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
 * @throws CasebackError BAD_INPUT when it is no backup, or of a later version
 */
export async function openBackup(bytes: AsyncIterable<Uint8Array>): Promise<OpenedBackup> {
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
  return { header, files, keys, entries: entriesOf(header, files, keys, lines, digest) };
}

async function* entriesOf(
  header: BackupHeader,
  files: KeptFile[],
  keys: KeptKey[],
  lines: AsyncIterable<Buffer>,
  digest: ReturnType<typeof createHash>,
): AsyncGenerator<readonly StoredEntry[]> {
  let line = 1;
  let last: Pick<StoredEntry, 'sequence' | 'hash'> = { sequence: 0, hash: NO_HASH };
  let batch: StoredEntry[] = [];
  let isEnded = false;
  const known = new Set<string>();
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

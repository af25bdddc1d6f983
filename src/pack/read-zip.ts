import type { Entry, ZipFile } from 'yauzl';
import { CasebackError } from '../model/problems.ts';
import { entriesOf, openedZip } from '../zip/open-zip.ts';

/** Files of one pack. */
export const MOST_FILES = 5_000;
/** Bytes of one file, and of all together, unpacked. */
export const LARGEST_FILE = 128 * 1024 * 1024;
export const MOST_BYTES = 512 * 1024 * 1024;
/** How many times its packed size a file may have, where it is larger than a mebibyte; text has some 5 to 30, and deflate at most 1,032. */
const MOST_RATIO = 200;
const SMALL = 1024 * 1024;

/**
 * Files in a ZIP, by path. What another program might unpack outside its folder, in place of another file, or without end is refused, and nothing
 * is written. A file whose packed bytes are broken is there with nothing in it, so that its digest tells.
 * @param name of the ZIP, for messages
 * @throws CasebackError BAD_FILE that says what is refused
 */
export async function filesInZip(bytes: Buffer, name: string): Promise<ReadonlyMap<string, Uint8Array>> {
  const refuse = (what: string) => new CasebackError('BAD_FILE', `${name} ${what}`);
  const zip = await openedZip(bytes).catch((error: Error) => {
    throw refuse(`cannot be read as a ZIP: ${error.message}`);
  });
  if (zip.entryCount > MOST_FILES)
    throw refuse(`has ${zip.entryCount} files; a pack has at most ${MOST_FILES}`);
  const files = new Map<string, Uint8Array>();
  const seen = new Set<string>();
  let [total, packed] = [0, 0];
  const entries = await entriesOf(zip).catch((error: Error) => {
    throw refuse(`is refused: ${error.message}`);
  });
  for (const entry of entries) {
    const { fileName, uncompressedSize, compressedSize } = entry;
    const fault = faultOf(entry);
    if (fault !== undefined) throw refuse(`is refused: ${shown(fileName)} ${fault}`);
    // Where letters are not told apart by case, or a name is a folder too, one file would take the place of another.
    const key = fileName.normalize('NFC').toLowerCase();
    if (seen.has(key)) throw refuse(`is refused: it has ${shown(fileName)} twice`);
    seen.add(key);
    total += uncompressedSize;
    packed += compressedSize;
    if (total > MOST_BYTES)
      throw refuse(`is refused: unpacked it has more than ${MOST_BYTES / 1024 ** 2} MiB`);
    if (packed > bytes.length) throw refuse('is refused: its files share their bytes');
    if (/\/$/u.test(fileName)) continue;
    files.set(fileName, await contentOf(zip, entry).catch(() => new Uint8Array()));
  }
  return files;
}

function faultOf({
  fileName,
  uncompressedSize,
  compressedSize,
  externalFileAttributes,
  versionMadeBy,
  generalPurposeBitFlag,
  compressionMethod,
}: Entry): string | undefined {
  // Names that lead elsewhere are refused by the library; these are what it lets through.
  if (/[\p{Cc}\\:]|(?:^|\/)\.{1,2}(?:\/|$)/u.test(fileName))
    return 'is a name that other programs read otherwise';
  const mode = externalFileAttributes >>> 16;
  const isUnix = versionMadeBy >>> 8 === 3;
  const kind = mode & 0o170000;
  if (isUnix && kind !== 0 && kind !== 0o100000 && kind !== 0o040000)
    return 'is a link or a device, not a file';
  if (generalPurposeBitFlag & 1) return 'is encrypted';
  if (compressionMethod !== 0 && compressionMethod !== 8) return 'is packed in a way that is not read here';
  if (uncompressedSize > LARGEST_FILE) return `has more than ${LARGEST_FILE / 1024 ** 2} MiB`;
  if (uncompressedSize > SMALL && uncompressedSize > compressedSize * MOST_RATIO)
    return `unpacks to more than ${MOST_RATIO} times its size`;
  return undefined;
}

function contentOf(zip: ZipFile, entry: Entry): Promise<Uint8Array> {
  return new Promise((resolve, reject) =>
    zip.openReadStream(entry, (error, stream) => {
      if (error) return reject(error);
      const pieces: Buffer[] = [];
      stream.on('data', (piece: Buffer) => pieces.push(piece));
      stream.on('error', reject);
      stream.on('end', () => resolve(Buffer.concat(pieces)));
    }),
  );
}

/** A name from outside, on one line and short. */
function shown(name: string): string {
  return JSON.stringify(name.length > 80 ? `${name.slice(0, 80)}…` : name);
}

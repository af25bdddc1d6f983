import type { Readable } from 'node:stream';
import type { Entry } from 'yauzl';
import { entriesOf, openedZip } from '../../zip/open-zip.ts';
import { quoted } from '../board-design.ts';
import { WorkbookFault } from './fault.ts';

// The ZIP around a workbook: its directory is looked at before anything is unpacked, and what is unpacked is counted, since a
// directory can lie. Open Packaging Conventions: ECMA-376, Part 2.

/** Files in a workbook; pictures and drawings count, which are never unpacked. */
const MOST_FILES = 2_000;
/** Bytes of all files together, unpacked. A sheet of 1,048,576 rows that are formatted and empty has some 90 MB. */
export const MOST_UNPACKED = 256 * 1024 * 1024;
/** How many times its packed size a file of more than {@link SMALL} bytes may have; sheets have some 5 to 30. */
const MOST_RATIO = 200;
const SMALL = 1024 * 1024;

/** The files of a workbook, none of them unpacked yet. */
export interface Package {
  readonly names: readonly string[];
  has(name: string): boolean;
  /** The bytes of a file as they are unpacked. @throws WorkbookFault where it is not there */
  open(name: string): Promise<Readable>;
}

/**
 * Looks at the directory of a ZIP.
 * @throws WorkbookFault for what cannot be read, or should not be unpacked
 */
export async function openPackage(bytes: Uint8Array): Promise<Package> {
  const zip = await openedZip(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)).catch(
    (error: Error) => {
      throw new WorkbookFault(`is a damaged workbook: ${error.message}`, 'save it again; it may be cut off');
    },
  );
  if (zip.entryCount > MOST_FILES)
    throw new WorkbookFault(
      `has ${zip.entryCount.toLocaleString('en')} files in it; a workbook has at most ${MOST_FILES.toLocaleString('en')}`,
      'save the list alone in a workbook of its own',
    );
  const entries = await entriesOf(zip).catch((error: Error) => {
    throw new WorkbookFault(
      `is refused as a workbook: ${error.message}`,
      'save it again in a spreadsheet program',
    );
  });
  const files = new Map<string, Entry>();
  const seen = new Set<string>();
  let [total, packed] = [0, 0];
  for (const entry of entries) {
    const { fileName } = entry;
    const fault = faultOf(entry);
    if (fault) throw fault;
    // Names in a package are told apart without regard to case (ECMA-376, Part 2, 6.2.2.3).
    const key = fileName.toLowerCase();
    if (seen.has(key))
      throw new WorkbookFault(`is refused: it has ${quoted(fileName)} twice`, 'save it again');
    seen.add(key);
    total += entry.uncompressedSize;
    packed += entry.compressedSize;
    if (total > MOST_UNPACKED)
      throw new WorkbookFault(
        `would unpack to more than ${MOST_UNPACKED / 1024 ** 2} MiB`,
        'save the list alone in a workbook of its own',
      );
    if (packed > bytes.byteLength)
      throw new WorkbookFault('is refused: the files in it share their bytes', 'save it again');
    files.set(key, entry);
  }
  return {
    names: [...files.values()].map(({ fileName }) => fileName),
    has: (name) => files.has(name.toLowerCase()),
    open(name) {
      const entry = files.get(name.toLowerCase());
      if (!entry) throw new WorkbookFault(`lacks ${quoted(name)}`, 'save it again; it may be cut off');
      return new Promise((resolve, reject) =>
        zip.openReadStream(entry, (error, stream) =>
          error
            ? reject(
                new WorkbookFault(`cannot be unpacked: ${error.message}`, 'save it again; it may be cut off'),
              )
            : resolve(stream),
        ),
      );
    },
  };
}

function faultOf({
  fileName,
  uncompressedSize,
  compressedSize,
  generalPurposeBitFlag,
  compressionMethod,
}: Entry): WorkbookFault | undefined {
  // Names that lead elsewhere are refused by the library; these are what it lets through.
  if (/[\p{Cc}\\:]|(?:^|\/)\.{1,2}(?:\/|$)/u.test(fileName))
    return new WorkbookFault(
      `is refused: ${quoted(fileName)} in it is a name that other programs read otherwise`,
      'save it again in a spreadsheet program',
    );
  if (generalPurposeBitFlag & 1) return new WorkbookFault('is encrypted', 'save it without a password');
  if (compressionMethod !== 0 && compressionMethod !== 8)
    return new WorkbookFault(
      `is refused: ${quoted(fileName)} in it is packed in a way that is not read here`,
      'save it again in a spreadsheet program',
    );
  if (uncompressedSize > SMALL && uncompressedSize > compressedSize * MOST_RATIO)
    return new WorkbookFault(
      `is refused: ${quoted(fileName)} in it unpacks to more than ${MOST_RATIO} times its size`,
      'save the list alone in a workbook of its own',
    );
  return undefined;
}

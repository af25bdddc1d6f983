import { Readable } from 'node:stream';
import { ZipFile } from 'yazl';
import type { ExportFile, Lose } from './export-file.ts';

/** Bytes of a chunk, about: what makes few calls of what reads it and holds nobody up. */
const CHUNK = 65_536;

/** Pieces of text or bytes, joined into chunks of about 64 KiB; a piece that is larger stays whole. */
export async function* inChunks(pieces: AsyncIterable<string | Uint8Array>): AsyncGenerator<Buffer> {
  let gathered: Buffer[] = [];
  let size = 0;
  for await (const piece of pieces) {
    const bytes = Buffer.from(piece as string);
    gathered.push(bytes);
    size += bytes.length;
    if (size < CHUNK) continue;
    yield Buffer.concat(gathered);
    gathered = [];
    size = 0;
  }
  if (size > 0) yield Buffer.concat(gathered);
}

/**
 * What every entry of a ZIP says of itself, so that equal files give equal bytes wherever it is made.
 * @param date ISO 8601: its day
 */
export function entryOf(date: string) {
  // The format dates entries by the local clock, which is noon then in every time zone; its second form, in UTC, would differ.
  return { mtime: new Date(`${date.slice(0, 10)}T12:00:00`), forceDosTimestamp: true, mode: 0o100644 };
}

/**
 * Files as one ZIP archive (PKWARE APPNOTE), made as it is read. Equal files and date give equal bytes
 * wherever it is made.
 * @param date of every entry, ISO 8601: its day
 * @throws what making the files throws; the signal's reason
 */
export async function* zipOf(
  files: readonly ExportFile[],
  date: string,
  lose: Lose,
  signal?: AbortSignal,
): AsyncGenerator<Buffer> {
  const zip = new ZipFile();
  const output = zip.outputStream as Readable;
  const fail = (error: Error) => output.destroy(error);
  zip.on('error', fail);
  let open: Readable | undefined;
  for (const { name, pieces, isBinary = false } of files)
    zip.addReadStreamLazy(name, { ...entryOf(date), compress: !isBinary }, (begin) => {
      // The package passes on no failure of what it reads.
      open = Readable.from(inChunks(pieces(lose, signal)), { objectMode: false }).once('error', fail);
      begin(null, open);
    });
  zip.end();
  try {
    yield* output as AsyncIterable<Buffer>;
  } finally {
    open?.destroy();
    output.destroy();
  }
}

import type { Readable } from 'node:stream';
import { ZipFile } from 'yazl';
import type { MadeFile } from './contents.ts';

/**
 * Files as a ZIP (APPNOTE 6.3), in their order, all dated alike, so that equal files give equal bytes wherever it is written.
 * @param day of the state, YYYY-MM-DD
 */
export function zipOf(files: readonly Pick<MadeFile, 'path' | 'content'>[], day: string): Readable {
  const zip = new ZipFile();
  // Dates of a ZIP are of the local clock, which is noon in every time zone; the second form, in UTC, would differ.
  const mtime = new Date(`${day}T12:00:00`);
  for (const { path, content } of files)
    zip.addBuffer(Buffer.from(content.buffer, content.byteOffset, content.length), path, {
      mtime,
      mode: 0o100644,
      forceDosTimestamp: true,
    });
  zip.end();
  // Its type is that of the oldest streams; it is a PassThrough.
  return zip.outputStream as Readable;
}

import type { Readable } from 'node:stream';
import { ZipFile } from 'yazl';
import { entryOf } from '../export/zip.ts';
import type { MadeFile } from './contents.ts';

/**
 * Files as a ZIP (APPNOTE 6.3), in their order, all dated alike, so that equal files give equal bytes wherever it is written.
 * @param day of the state, YYYY-MM-DD
 */
export function zipOf(files: readonly Pick<MadeFile, 'path' | 'content'>[], day: string): Readable {
  const zip = new ZipFile();
  for (const { path, content } of files)
    zip.addBuffer(Buffer.from(content.buffer, content.byteOffset, content.length), path, entryOf(day));
  zip.end();
  // Its type is that of the oldest streams; it is a PassThrough.
  return zip.outputStream as Readable;
}

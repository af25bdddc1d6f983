import { type Entry, fromBuffer, type ZipFile } from 'yauzl';

/**
 * Opens a ZIP file in memory by its directory; nothing of it is unpacked yet. Names that lead elsewhere, and sizes that do not hold, are errors
 * of the library.
 * @throws Error for what is no such file
 */
export function openedZip(bytes: Buffer): Promise<ZipFile> {
  return new Promise((resolve, reject) =>
    fromBuffer(bytes, { lazyEntries: true, strictFileNames: true, validateEntrySizes: true }, (error, zip) =>
      error ? reject(error) : resolve(zip),
    ),
  );
}

/** Entries of its directory, in order. @throws Error where it is damaged */
export function entriesOf(zip: ZipFile): Promise<readonly Entry[]> {
  return new Promise((resolve, reject) => {
    const entries: Entry[] = [];
    zip.on('error', reject);
    zip.on('end', () => resolve(entries));
    zip.on('entry', (entry: Entry) => {
      entries.push(entry);
      zip.readEntry();
    });
    zip.readEntry();
  });
}

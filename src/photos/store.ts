/** Where the files of photos are kept, by their digests. A file under a digest never changes. */
export interface PhotoStore {
  /**
   * Keeps a file; on disk for good once this resolves. A file that is there and whole stays.
   * @param sha256 digest of the content
   * @throws CasebackError UNAVAILABLE when the store cannot be written
   */
  put(sha256: string, content: Uint8Array): Promise<void>;
  /** The bytes under a digest, as they lie there, right or not; undefined where there are none. */
  get(sha256: string): Promise<Uint8Array | undefined>;
  has(sha256: string): Promise<boolean>;
  /** Takes a file away that no entry names; one that is not there is no matter. */
  remove(sha256: string): Promise<void>;
  /** Digests of all files. */
  list(): AsyncIterable<string>;
  close(): Promise<void>;
}

export const isDigest = (text: string): boolean => /^[0-9a-f]{64}$/u.test(text);

import { createPrivateKey, createPublicKey, sign, verify } from 'node:crypto';
import { z } from 'zod';
import { CasebackError } from '../model/problems.ts';
import { canonicalJson } from './canonical.ts';
import { type Journal, NO_HASH } from './journal.ts';
import { GrowingTree } from './merkle.ts';

const HASH = z.string().regex(/^[0-9a-f]{64}$/u);

const ANCHOR = z.strictObject({
  caseback: z.literal('anchor/1'),
  archive: z.string(),
  entries: z.int().min(0),
  head: HASH,
  root: HASH,
  madeOn: z.iso.datetime(),
  signature: z
    .strictObject({ algorithm: z.literal('Ed25519'), publicKey: z.string(), value: z.string() })
    .optional(),
});

/**
 * What a journal is at one moment, in a few lines that can be published: whoever has them can tell later whether an
 * archive still begins with the very same entries.
 */
export interface Anchor {
  readonly caseback: 'anchor/1';
  /** Identity of the archive. */
  readonly archive: string;
  /** Number of entries: the tree size. */
  readonly entries: number;
  /** Hash of the last entry, 64 zeros for none. */
  readonly head: string;
  /**
   * Merkle tree hash (RFC 9162, section 2.1.1) over the entries in order, in hexadecimal; the data of a leaf are the 32 bytes
   * of the entry's hash.
   */
  readonly root: string;
  /** ISO 8601 in UTC. */
  readonly madeOn: string;
  /** Ed25519 (RFC 8032) over the canonical JSON (RFC 8785) of the other members; key (SPKI) and value in base64. */
  readonly signature?: { readonly algorithm: 'Ed25519'; readonly publicKey: string; readonly value: string };
}

/**
 * Anchor of a journal as it is now; every entry's hash is calculated anew.
 * @throws DamagedEntry for an entry that is not what was written
 */
export async function anchorOf(journal: Journal, madeOn: Date): Promise<Anchor> {
  const archive = await journal.identity();
  if (archive === undefined)
    throw new CasebackError(
      'UNAVAILABLE',
      'The journal is of an older program and has no identity yet, and it cannot be written to give it one',
    );
  const { sequence } = await journal.head();
  const { head, root } = await treeOf(journal, sequence);
  return { caseback: 'anchor/1', archive, entries: sequence, head, root, madeOn: madeOn.toISOString() };
}

/**
 * Signs an anchor.
 * @param key private Ed25519 key, PEM (PKCS #8)
 * @throws CasebackError BAD_INPUT for any other key
 */
export function signAnchor(anchor: Anchor, key: string): Anchor {
  const { signature: _, ...unsigned } = anchor;
  const privateKey = ed25519(() => createPrivateKey(key), 'a private');
  const value = sign(null, Buffer.from(canonicalJson(unsigned)), privateKey).toString('base64');
  const publicKey = createPublicKey(privateKey).export({ type: 'spki', format: 'der' }).toString('base64');
  return { ...unsigned, signature: { algorithm: 'Ed25519', publicKey, value } };
}

/** @throws CasebackError BAD_FILE for a text that is not an anchor */
export function readAnchor(text: string, file: string): Anchor {
  let read: unknown;
  try {
    read = JSON.parse(text);
  } catch {
    read = undefined;
  }
  const parsed = ANCHOR.safeParse(read);
  if (parsed.success) return parsed.data as Anchor;
  throw new CasebackError(
    'BAD_FILE',
    `${file} is not a valid anchor; give a file that "caseback anchor" wrote`,
  );
}

/** How an anchor's signature stands: against the key given, else against the one that it names itself. */
export type SignatureVerdict = 'good' | 'good by its own key' | 'bad' | 'of another key' | 'none';

/**
 * @param trusted public Ed25519 key, PEM (SPKI), that the anchor must be signed with
 * @throws CasebackError BAD_INPUT for any other key
 */
export function signatureOf(anchor: Anchor, trusted?: string): SignatureVerdict {
  const { signature, ...unsigned } = anchor;
  const key = trusted === undefined ? undefined : ed25519(() => createPublicKey(trusted), 'a public');
  if (signature === undefined) return 'none';
  const own = Buffer.from(signature.publicKey, 'base64');
  if (key && !key.export({ type: 'spki', format: 'der' }).equals(own)) return 'of another key';
  try {
    const signer = key ?? createPublicKey({ key: own, type: 'spki', format: 'der' });
    const isGood =
      signer.asymmetricKeyType === 'ed25519' &&
      verify(null, Buffer.from(canonicalJson(unsigned)), signer, Buffer.from(signature.value, 'base64'));
    if (!isGood) return 'bad';
  } catch {
    return 'bad';
  }
  return key ? 'good' : 'good by its own key';
}

/** Why a journal is not what an anchor was made of, extended or not; undefined where it is. */
export async function differenceFrom(journal: Journal, anchor: Anchor): Promise<string | undefined> {
  const archive = await journal.identity();
  if (archive !== anchor.archive)
    return `the anchor is of the archive ${anchor.archive}, and this is ${archive ?? 'one without an identity'}`;
  const { sequence } = await journal.head();
  if (sequence < anchor.entries)
    return `the anchor is of ${anchor.entries} entries, and the archive has ${sequence}`;
  const { head, root } = await treeOf(journal, anchor.entries);
  if (root === anchor.root && head === anchor.head) return undefined;
  return `entries 1 to ${anchor.entries} are not those that the anchor was made of`;
}

/** Head and root over the first entries of a journal. */
async function treeOf(journal: Journal, entries: number): Promise<Pick<Anchor, 'head' | 'root'>> {
  const tree = new GrowingTree();
  let head = NO_HASH;
  if (entries > 0)
    for await (const batch of journal.read({ upTo: entries })) {
      for (const { hash } of batch) {
        tree.add(Buffer.from(hash, 'hex'));
        head = hash;
      }
    }
  return { head, root: tree.root() };
}

function ed25519<K extends { readonly asymmetricKeyType?: string | undefined }>(
  make: () => K,
  what: string,
): K {
  try {
    const key = make();
    if (key.asymmetricKeyType === 'ed25519') return key;
  } catch {
    // Said below.
  }
  throw new CasebackError(
    'BAD_INPUT',
    `The key is not ${what} Ed25519 key in PEM; "openssl genpkey -algorithm ed25519" makes one, "openssl pkey -pubout" its public half`,
  );
}

import { createPrivateKey, createPublicKey, sign, verify } from 'node:crypto';
import { z } from 'zod';
import { CasebackError } from '../model/problems.ts';
import { canonicalJson } from './canonical.ts';
import { type Journal, NO_HASH } from './journal.ts';
import { consistencyProof, GrowingTree, isConsistent } from './merkle.ts';

const HASH = z.string().regex(/^[0-9a-f]{64}$/u);

const ANCHOR = z.strictObject({
  caseback: z.literal('anchor/1'),
  archive: z.string(),
  entries: z.int().min(0),
  head: HASH,
  root: HASH,
  madeOn: z.iso.datetime(),
  consistency: z.strictObject({ entries: z.int().min(0), root: HASH, proof: z.array(HASH) }).optional(),
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
  /** Proof that it extends an earlier anchor, for whoever has both and not the archive. */
  readonly consistency?: Consistency;
  /** Ed25519 (RFC 8032) over the canonical JSON (RFC 8785) of the other members; key (SPKI) and value in base64. */
  readonly signature?: { readonly algorithm: 'Ed25519'; readonly publicKey: string; readonly value: string };
}

/** Proof that a journal begins with the entries of an earlier one (RFC 9162, section 2.1.4). */
export interface Consistency {
  /** Number of entries of the earlier one. */
  readonly entries: number;
  /** Its Merkle tree hash. */
  readonly root: string;
  /** Hashes, in hexadecimal, in the order of the RFC. */
  readonly proof: readonly string[];
}

/**
 * Anchor of a journal as it is now; every entry's hash is calculated anew.
 * @param earlier an anchor that it is to prove that it extends
 * @throws DamagedEntry for an entry that is not what was written; CasebackError CONFLICT where it does not extend `earlier`
 */
export async function anchorOf(journal: Journal, madeOn: Date, earlier?: Anchor): Promise<Anchor> {
  const archive = await journal.identity();
  if (archive === undefined)
    throw new CasebackError(
      'UNAVAILABLE',
      'The journal is of an older program and has no identity yet, and it cannot be written to give it one',
    );
  const { leaves, ...tree } = await treeNow(journal);
  const anchor: Anchor = { caseback: 'anchor/1', archive, ...tree, madeOn: madeOn.toISOString() };
  if (!earlier) return anchor;
  const difference = differenceOf({ ...anchor, leaves }, earlier);
  if (difference !== undefined)
    throw new CasebackError('CONFLICT', `The archive does not extend the earlier anchor: ${difference}`);
  return { ...anchor, consistency: consistencyOf(leaves, earlier) };
}

/**
 * Why a later anchor does not show that its archive extends that of an earlier one; undefined where it does. Needs no archive.
 */
export function whyNotExtended(earlier: Anchor, later: Anchor): string | undefined {
  if (earlier.archive !== later.archive)
    return `they are of two archives, ${earlier.archive} and ${later.archive}`;
  if (earlier.entries > later.entries)
    return `the later one has ${later.entries} entries, the earlier one ${earlier.entries}`;
  const { consistency } = later;
  if (!consistency || consistency.entries !== earlier.entries)
    return `the later one has no proof for ${earlier.entries} entries; "caseback anchor --consistent-with" makes one`;
  const growth = {
    first: earlier.entries,
    firstRoot: earlier.root,
    second: later.entries,
    secondRoot: later.root,
  };
  const proof = consistency.proof.map((hash) => Buffer.from(hash, 'hex'));
  return isConsistent(growth, proof)
    ? undefined
    : 'the proof does not hold: one of the two is of other entries, or was altered';
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
  const { sequence: entries } = await journal.head();
  const leaves = await leavesOf(journal, Math.min(entries, anchor.entries));
  return differenceOf({ archive: await journal.identity(), entries, leaves }, anchor);
}

/**
 * The proof that a journal as it is now extends an anchor, once it does.
 * @returns its own number of entries and root with it
 */
export async function proofSince(
  journal: Journal,
  anchor: Anchor,
): Promise<{ readonly entries: number; readonly root: string; readonly consistency: Consistency }> {
  const { entries, root, leaves } = await treeNow(journal);
  return { entries, root, consistency: consistencyOf(leaves, anchor) };
}

interface Tree {
  readonly entries: number;
  /** Hash of the last entry. */
  readonly head: string;
  readonly root: string;
  readonly leaves: readonly Buffer[];
}

function differenceOf(
  found: Pick<Tree, 'entries' | 'leaves'> & { readonly archive: string | undefined },
  anchor: Anchor,
): string | undefined {
  const { archive, entries, leaves } = found;
  if (archive !== anchor.archive)
    return `the anchor is of the archive ${anchor.archive}, and this is ${archive ?? 'one without an identity'}`;
  if (entries < anchor.entries)
    return `the anchor is of ${anchor.entries} entries, and the archive has ${entries}`;
  const { head, root } = treeOf(leaves.slice(0, anchor.entries));
  if (root === anchor.root && head === anchor.head) return undefined;
  return `entries 1 to ${anchor.entries} are not those that the anchor was made of`;
}

function consistencyOf(leaves: readonly Buffer[], { entries, root }: Anchor): Consistency {
  return { entries, root, proof: consistencyProof(entries, leaves).map((hash) => hash.toString('hex')) };
}

/** The tree over all entries of a journal. */
async function treeNow(journal: Journal): Promise<Tree> {
  const { sequence } = await journal.head();
  const leaves = await leavesOf(journal, sequence);
  return { entries: sequence, ...treeOf(leaves), leaves };
}

/** Data of the first leaves, from entries that are checked as they are read. */
async function leavesOf(journal: Journal, upTo: number): Promise<readonly Buffer[]> {
  const leaves: Buffer[] = [];
  if (upTo > 0)
    for await (const batch of journal.read({ upTo }))
      for (const { hash } of batch) leaves.push(Buffer.from(hash, 'hex'));
  return leaves;
}

function treeOf(leaves: readonly Buffer[]): Pick<Anchor, 'head' | 'root'> {
  const tree = new GrowingTree();
  for (const leaf of leaves) tree.add(leaf);
  return { head: leaves.at(-1)?.toString('hex') ?? NO_HASH, root: tree.root() };
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

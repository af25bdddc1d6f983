import {
  type Anchor,
  differenceFrom,
  proofSince,
  readAnchor,
  type SignatureVerdict,
  signatureOf,
} from '../../journal/anchor.ts';
import { DamagedEntry } from '../../journal/errors.ts';
import type { Journal } from '../../journal/journal.ts';
import { examine, type Fault } from '../../journal/verify.ts';
import { examinePhotos } from '../../photos/verify.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT, UsageError } from '../frame/exit.ts';
import { readText } from '../frame/files.ts';
import { readBy, text } from '../frame/options.ts';
import { photosOf } from '../frame/photos.ts';

export const command = defineCommand({
  name: 'verify',
  about:
    'Each entry of the journal carries the hash (SHA-256) of the one before. This calculates them all anew, holds their number and the last against the note beside the journal (journal.head.json), has SQLite check every page and index, holds the file of every photo against its digest, and lists every entry and photo that is damaged or missing; exit code 3 then. The answer has the hash of the last entry: note it elsewhere, and a later --noted shows that nothing up to there was changed or cut off since.',
  options: {
    noted: readBy('HASH', 'a hash that the chain must contain', hashIn),
    anchor: text('FILE', 'an anchor ("caseback anchor") that the archive must begin with'),
    publicKey: text('FILE', 'a public Ed25519 key in PEM that the anchor must be signed with'),
  },
  uses: 'folder',
  formats: ['text', 'json'],
  examples: [
    'verify',
    'verify --data ./backup --noted 9f2c…',
    'verify --anchor monday.json --public-key key.pub',
  ],

  async run(call) {
    const { noted, anchor: anchorFile, publicKey } = call.options;
    if (publicKey !== undefined && anchorFile === undefined)
      throw new UsageError('--public-key goes with --anchor; give the anchor to check');
    const anchor =
      anchorFile === undefined ? undefined : readAnchor(readText(anchorFile, call.terminal), anchorFile);
    const signature =
      anchor && signatureOf(anchor, publicKey === undefined ? undefined : readText(publicKey, call.terminal));
    // Damaged or not, what is there is to be checked.
    const journal = call.journal({ whatIsWhole: true });
    const examined = await examine(journal);
    const photos = await examinePhotos(journal, photosOf(call.place).store);
    const { whole, faults } = examined;
    const damage = [...examined.damage, ...photos.damage];
    const notes = [...examined.notes, ...photos.notes];
    const { hash } = await journal.head();
    const isMissing = noted !== undefined && faults.length === 0 && !(await contains(journal, noted));
    const anchored =
      anchor && signature ? await anchorFaults(journal, anchor, signature, publicKey !== undefined) : [];
    const proof =
      anchor && faults.length === 0 && anchored.length === 0 ? await proofSince(journal, anchor) : undefined;
    const intact = faults.length === 0 && damage.length === 0 && anchored.length === 0 && !isMissing;
    const entries = counted(whole, 'entry', 'entries');
    const pictures =
      photos.whole > 0 ? `\n${counted(photos.whole, 'photo')}, each with the digest on record` : '';
    return {
      text() {
        if (intact) {
          const begins = anchor
            ? `\nIt begins with the ${counted(anchor.entries, 'entry', 'entries')} of the anchor of ${anchor.madeOn}; signature: ${signature}\nIts Merkle tree head is ${proof?.root}; ${counted(proof?.consistency.proof.length ?? 0, 'hash proves', 'hashes prove')} that it extends the anchor's (--format json)`
            : '';
          return `intact: ${entries}, each with the hash it should have; the last is ${hash}${pictures}${begins}\n`;
        }
        const lines = [
          ...faults.map((fault) => `${entriesOf(fault)} ${fault.why}`),
          ...damage,
          ...anchored,
          ...(isMissing ? [`no entry has the noted hash ${noted}`] : []),
        ];
        return `${lines.map((line) => `damaged: ${line}\n`).join('')}${entries} as written. Restore the archive from a copy; --what-is-whole reads what stands before the first damaged entry\n`;
      },
      json: () => ({
        intact,
        entries: whole,
        photos: photos.whole,
        head: hash,
        ...(faults.length > 0 ? { sequence: faults[0].first, why: faults[0].why } : {}),
        faults,
        damage: [...damage, ...anchored],
        notes,
        ...(anchor ? { anchored: anchored.length === 0, signature, ...(proof ? { proof } : {}) } : {}),
        ...(isMissing ? { missing: noted } : {}),
      }),
      messages: notes,
      exit: intact ? EXIT.fine : EXIT.damaged,
    };
  },
});

function entriesOf({ first, last }: Fault): string {
  return first === last ? `entry ${first}` : `entries ${first} to ${last}, each of which`;
}

/** What of an anchor does not hold of an archive. */
async function anchorFaults(
  journal: Journal,
  anchor: Anchor,
  signature: SignatureVerdict,
  mustBeSigned: boolean,
): Promise<readonly string[]> {
  const difference = await differenceFrom(journal, anchor).catch((error: unknown) => {
    if (error instanceof DamagedEntry) return undefined;
    throw error;
  });
  const isSigned = signature === 'good' || (!mustBeSigned && signature !== 'bad');
  return [
    ...(difference === undefined ? [] : [difference]),
    ...(isSigned ? [] : [`the signature of the anchor: ${signature}`]),
  ];
}

function hashIn(written: string, option: string): string {
  const hash = written.toLowerCase();
  if (/^[0-9a-f]{64}$/u.test(hash)) return hash;
  throw new UsageError(`${option} is not a valid SHA-256 hash; give all 64 hexadecimal characters`);
}

async function contains(journal: Journal, hash: string): Promise<boolean> {
  for await (const entries of journal.readStored()) {
    if (entries.some((entry) => entry.hash === hash)) return true;
  }
  return false;
}

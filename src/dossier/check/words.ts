import type { Collection } from '../../model/catalogue.ts';

/** What messages call the records of each collection, and devices. */
export const KIND_WORDS: Readonly<Record<Collection | 'devices', string>> = {
  makers: 'maker',
  families: 'product line',
  parts: 'part',
  sources: 'source',
  pieces: 'piece',
  patterns: 'pattern',
  devices: 'device',
};

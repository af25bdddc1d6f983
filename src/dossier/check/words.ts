import type { Collection } from '../../model/catalogue.ts';

/** What messages call the records of each collection. */
export const KIND_WORDS: Readonly<Record<Collection, string>> = {
  makers: 'maker',
  productLines: 'product line',
  parts: 'part',
  sources: 'source',
  publications: 'publication',
  patterns: 'pattern',
  feeds: 'feed',
  listMappings: 'list mapping',
  devices: 'device',
};

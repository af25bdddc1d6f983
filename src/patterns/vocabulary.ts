import { PARAMETERS, TERMS } from '../model/taxonomy.ts';

// Names that patterns over the archive may use; the same for every archive, so that near names reveal nothing about
// its content. `segments.ts` gives them their meaning.

const PROPERTIES = [
  // of devices and specimens
  'id',
  'name',
  'released',
  'year',
  'bodySite',
  'mass',
  'price',
  'currency',
  'ingress',
  'revision',
  'region',
  'condition',
  'openedOn',
  // of boards and subsystems
  'kind',
  'layers',
  'length',
  'width',
  'height',
  // of components
  'specimen',
  'designator',
  'board',
  'side',
  'x',
  'y',
  'rotation',
  'package',
  'pins',
  'marking',
  'note',
  // of parts and makers
  'number',
  'maker',
  'introduced',
  'category',
  'country',
  // of links
  'medium',
  'bus',
  'lines',
  'probability',
  'state',
];

export const VOCABULARY = {
  labels: ['Device', 'Specimen', 'Board', 'Subsystem', 'Part', 'Maker', 'ProductLine', ...TERMS],
  edgeLabels: [
    'SPECIMEN_OF',
    'HAS_BOARD',
    'STACKED_ON',
    'ON',
    'PART_OF',
    'CONNECTS',
    'IDENTIFIED_AS',
    'MADE_BY',
    'IN_LINE',
    'SUCCEEDS',
    'RELABELS',
  ],
  properties: [...PROPERTIES, ...PARAMETERS.keys()],
} as const;

import { archive } from './archive/archive.ts';
import { search } from './archive/search.ts';
import { changes } from './changes/changes.ts';
import { charts } from './charts/charts.ts';
import { comparison } from './comparison/comparison.ts';
import { generations } from './comparison/generations.ts';
import { similarity } from './comparison/similarity.ts';
import { components } from './components/components.ts';
import { decisions } from './decisions/decisions.ts';
import { designChecks } from './design-checks/design-checks.ts';
import { devices } from './devices/devices.ts';
import { drawings } from './drawings/drawings.ts';
import { evidence } from './evidence/evidence.ts';
import { exports } from './exports/exports.ts';
import { feeds } from './feeds/feeds.ts';
import { history } from './history/history.ts';
import { identification } from './identification/identification.ts';
import { photoReading } from './identification/photo-reading.ts';
import { linkedData } from './linked-data/linked-data.ts';
import { listMappings } from './list-mappings/list-mappings.ts';
import { makers } from './makers/makers.ts';
import { measurement } from './measurement/measurement.ts';
import { nets } from './nets/nets.ts';
import { wiring } from './nets/wiring.ts';
import { node } from './node.ts';
import { packs } from './packs/packs.ts';
import { parts } from './parts/parts.ts';
import { patterns } from './patterns/patterns.ts';
import { people } from './people/people.ts';
import { photos } from './photos/photos.ts';
import { photoViewers } from './photos/viewers.ts';
import { presence } from './presence/presence.ts';
import { publications } from './publications/publications.ts';
import type { Resolvers } from './resolver-types.ts';
import { quantities } from './scalars.ts';
import { specimens } from './specimens/specimens.ts';
import { structures } from './structures/structures.ts';
import { tradeFiles } from './trade-files/trade-files.ts';
import { trends } from './trends/trends.ts';
import { webhooks } from './webhooks/webhooks.ts';

/**
 * What answers the schema, a map a subject. Fields not named in any are read from the source by their own name; a source
 * holds values, never functions, which compiled documents would not call.
 */
export const RESOLVERS: readonly Resolvers[] = [
  node,
  quantities,
  archive,
  history,
  search,
  devices,
  specimens,
  photoViewers,
  presence,
  components,
  nets,
  wiring,
  measurement,
  photos,
  packs,
  parts,
  makers,
  publications,
  feeds,
  listMappings,
  linkedData,
  webhooks,
  comparison,
  generations,
  similarity,
  identification,
  photoReading,
  patterns,
  drawings,
  exports,
  trends,
  charts,
  structures,
  designChecks,
  decisions,
  evidence,
  changes,
  tradeFiles,
  people,
];

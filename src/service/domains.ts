import type { Domain } from './base/domain.ts';
import { changes } from './changes/changes.ts';
import { checks } from './checks/checks.ts';
import { compare } from './compare/compare.ts';
import { line } from './compare/line.ts';
import { similar } from './compare/similar.ts';
import { components } from './components/components.ts';
import { connections } from './connections/schema.ts';
import { decisions } from './decisions/decisions.ts';
import { devices } from './devices/devices.ts';
import { history } from './history/history.ts';
import { identify } from './identify/identify.ts';
import { impact } from './impact/impact.ts';
import { makers } from './makers/makers.ts';
import { node } from './node/node.ts';
import { overview } from './overview/overview.ts';
import { parts } from './parts/parts.ts';
import { patterns } from './patterns/patterns.ts';
import { publications } from './publications/publications.ts';
import { recurring } from './recurring/recurring.ts';
import { search } from './search/search.ts';
import { specimens } from './specimens/specimens.ts';
import { taxonomy } from './taxonomy/taxonomy.ts';
import { trends } from './trends/trends.ts';
import { values } from './values/values.ts';

/** Everything the schema is made of, in the order in which it is printed. */
export const DOMAINS: readonly Domain[] = [
  values,
  connections,
  node,
  overview,
  devices,
  specimens,
  components,
  parts,
  makers,
  search,
  compare,
  line,
  similar,
  identify,
  patterns,
  trends,
  checks,
  decisions,
  publications,
  impact,
  taxonomy,
  history,
  changes,
  recurring,
];

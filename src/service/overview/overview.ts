import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { summarise } from './summary.ts';

const schema = `
"What the archive holds, counted over what the asker may see."
type Archive {
  "Number of devices."
  devices: Int!
  "Number of specimens opened."
  specimens: Int!
  "Number of placed components."
  components: Int!
  "Number of parts in the catalogue."
  parts: Int!
  "Number of makers, of devices and of parts."
  makers: Int!
  "Number of product lines."
  productLines: Int!
  "Number of publications."
  publications: Int!
  "Number of named patterns."
  patterns: Int!
  "Calendar year of the first release; null for an empty archive."
  firstYear: Int
  "Calendar year of the last release; null for an empty archive."
  lastYear: Int
  "Number of devices that are demo data: no such device exists."
  inventedDevices: Int!
  "Sequence of the last journal entry; null for readers, since it counts changes that they may not see."
  sequence: Int
  "Instant of the last journal entry; null for readers, and for an empty archive."
  changedAt: DateTime
}

extend type Query {
  "What the archive holds."
  archive: Archive!
}
`;

export const overview: Domain = {
  schema,
  resolvers: {
    Query: {
      archive: (root: Root, _args: object, context: Context) => {
        const view = viewOf(root, context);
        const { sequence, instant } = view.state;
        const log = view.audience === 'desk' ? { sequence, changedAt: instant || null } : {};
        return { ...summarise(view), ...log };
      },
    },
  },
  weights: { 'Query.archive': 100 },
};

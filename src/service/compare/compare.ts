import { type Comparison, compareDevices } from '../../compare/compareDevices.ts';
import { type Generation, generations } from '../../compare/generations.ts';
import type { Compared } from '../../compare/representative.ts';
import type { View } from '../../graph/view.ts';
import { CasebackError } from '../../model/problems.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { deviceSource, familySource } from '../sources/catalogue.ts';
import { specimenSource } from '../sources/specimen.ts';

/** Devices that stand side by side in one answer. */
const MOST_COLUMNS = 50;

const schema = `
"Devices side by side, in the order asked."
type Comparison {
  "One column a device."
  columns: [ComparedDevice!]!
  "One row a kind of sensor that some of them have."
  sensors: [KindRow!]!
  "One row a kind of processor that some of them have."
  processors: [KindRow!]!
  "One row a kind of subsystem that some of them have."
  subsystems: [SubsystemRow!]!
}

"A device and the one specimen that stands for it in a comparison."
type ComparedDevice {
  "The device."
  device: Device!
  "The specimen that stands for it: the one asked for, or the last one opened that was not damaged in opening."
  specimen: Specimen!
  "How many other specimens of it were opened; they may differ."
  otherSpecimens: Int!
}

"A kind of component and its counts."
type KindRow {
  "Term of the taxonomy."
  kind: String!
  "The sentence that explains the term."
  meaning: String!
  "One count a column, in the order of the columns."
  counts: [KindCount!]!
}

"A kind of subsystem and how many components it has."
type SubsystemRow {
  "Kind of the subsystem, or \`none\` for components in no named one."
  kind: String!
  "Number of components, a column each; null where the dossier names no such subsystem."
  components: [Int]!
}

"A product line from its first device to its last."
type Generations {
  "The product line."
  family: Family!
  "Its devices, by generation, then release."
  generations: [Generation!]!
  "The counts of its devices side by side, columns in the order of \`generations\`."
  comparison: Comparison!
}

"A device in its product line."
type Generation {
  "The device."
  device: Device!
  "Longest chain of predecessors inside the line, itself included: 1 for a first device. Branches share a number."
  number: Int!
  "Devices it directly follows."
  predecessors: [Device!]!
  "Devices that directly follow it."
  successors: [Device!]!
}

extend type Query {
  "Devices side by side: counts per kind of sensor and processor and per subsystem. Null, with error NOT_FOUND, when nothing visible has one of the ids."
  compareDevices(
    "Ids of devices, or of specimens where one is meant; 1 to ${MOST_COLUMNS}."
    ids: [ID!]!
  ): Comparison
  "A product line from its first device to its last, with the counts of each. Null, with error NOT_FOUND, when nothing visible has the id."
  generations(
    "Id of the product line."
    family: ID!
  ): Generations
}
`;

interface Compares {
  readonly view: View;
}

function comparisonOf(view: View, comparison: Comparison) {
  return { ...comparison, columns: comparison.columns.map((column) => ({ ...column, view })) };
}

export const compare: Domain = {
  schema,
  resolvers: {
    Query: {
      compareDevices: (root: Root, { ids }: { ids: readonly string[] }, context: Context) => {
        if (ids.length === 0 || ids.length > MOST_COLUMNS) {
          throw new CasebackError('BAD_INPUT', `ids has ${ids.length} items; give 1 to ${MOST_COLUMNS}`);
        }
        const view = viewOf(root, context);
        return comparisonOf(view, compareDevices(view, ids));
      },
      generations: (root: Root, { family }: { family: string }, context: Context) => {
        const view = viewOf(root, context);
        const answer = generations(view, family);
        return {
          family: familySource(view, answer.family),
          generations: answer.generations.map((one) => ({ ...one, view })),
          comparison: comparisonOf(view, answer.comparison),
        };
      },
    },
    ComparedDevice: {
      device: ({ view, device }: Compared & Compares) => deviceSource(view, device),
      specimen: ({ view, specimen }: Compared & Compares) => specimenSource(view, specimen),
    },
    Generation: {
      device: ({ view, device }: Generation & Compares) => deviceSource(view, device),
      predecessors: ({ view, predecessors }: Generation & Compares) =>
        predecessors.map((one) => deviceSource(view, one)),
      successors: ({ view, successors }: Generation & Compares) =>
        successors.map((one) => deviceSource(view, one)),
    },
  },
  weights: { 'Query.compareDevices': 500, 'Query.generations': 500 },
};

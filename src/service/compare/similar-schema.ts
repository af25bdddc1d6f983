import { MOST_CLUSTERED } from '../../compare/clusters.ts';
import { MOST_EDIT_NODES } from '../../compare/similar/edit-distance.ts';
import { DEFAULT_ITERATIONS, MOST_ITERATIONS } from '../../compare/similarity.ts';

const iterations = `
    "How far the neighbourhoods compared reach, in steps from a component: 0 (kinds alone) to ${MOST_ITERATIONS}."
    iterations: Int! = ${DEFAULT_ITERATIONS}`;

/** Devices of like circuits. */
export const similarSchema = `
"The devices most like one, by their component graphs."
type SimilarDevices {
  "The device asked about."
  of: ComparedDevice!
  "Number of devices that it was compared with."
  comparedWith: Int!
  "Most similar first."
  devices: [SimilarDevice!]!
}

"A device and how like its component graph is to that of the one asked about."
type SimilarDevice {
  "The device."
  device: Device!
  "The specimen that stands for it."
  specimen: Specimen!
  "Normalised subtree kernel (Weisfeiler–Lehman), 0 to 1: 1 for graphs that it cannot tell apart, 0 for nothing in common."
  similarity: Float!
  "Why: kinds and neighbourhoods that both have and that add most to the similarity."
  shared(
    "How many of each reach."
    first: Int! = 3
  ): [SharedNeighbourhood!]!
}

"A kind of component, or a kind with its surroundings, that two devices have in common."
type SharedNeighbourhood {
  "Reach as a number of steps: 0 for the kind alone."
  steps: Int!
  "In words, such as \`Accelerometer beside LinearRegulator and Microcontroller\`."
  words: String!
  "How many the device asked about has."
  inFirst: Int!
  "How many the other has."
  inSecond: Int!
  "What it adds to the kernel of the two, as a share of it, 0 to 1."
  share: Float!
}

"Groups of devices with like component graphs."
type DeviceClusters {
  "Largest first."
  clusters: [DeviceCluster!]!
  "Number of devices clustered."
  devices: Int!
  "Modularity of the clusters over the graph of similarities, a number of at most 1; near 0 the clusters mean little."
  modularity: Float!
}

"A group of devices with like component graphs."
type DeviceCluster {
  "The device most similar to the others on average."
  typical: Device!
  "All devices of the cluster, by mean similarity to the others."
  members: [ClusterMember!]!
  "What tells the cluster from the rest, most telling first."
  marks: [ClusterMark!]!
}

"A device of a cluster."
type ClusterMember {
  "The device."
  device: Device!
  "Mean normalised kernel with the other members, 0 to 1; 1 for a member alone."
  similarity: Float!
}

"A kind or neighbourhood that tells a cluster from the rest."
type ClusterMark {
  "In words."
  words: String!
  "Number of members that have it."
  inside: Int!
  "Number of other devices that have it."
  outside: Int!
}

"How many changes lie between two circuits: relabelling, taking out or putting in a component, taking out or putting in a connection cost 1 each."
type CircuitDistance {
  "Least number of changes; exact."
  distance: Int!
  "Components whose kind changes."
  relabelled: Int!
  "Components taken out."
  nodesRemoved: Int!
  "Components put in."
  nodesAdded: Int!
  "Number of connections taken out."
  edgesRemoved: Int!
  "Number of connections put in."
  edgesAdded: Int!
  "What becomes of each component."
  nodes: [CircuitNode!]!
}

"A component, or a board that components connect to, in two circuits."
type CircuitNode {
  "Its short id in the first circuit; null where it is put in."
  from: String
  "Its short id in the second circuit; null where it is taken out."
  to: String
  "Its kind in the first circuit."
  kindBefore: String
  "Its kind in the second circuit."
  kindAfter: String
}

extend type Query {
  "The devices whose component graphs are most like that of one. Null, with error NOT_FOUND, when nothing visible has the id."
  similarDevices(
    "Id of a device, or of a specimen where one is meant."
    id: ID!
    "How many, 1 to 100."
    first: Int! = 10${iterations}
  ): SimilarDevices
  "Groups of devices with like component graphs (Louvain communities of each device's eight most similar). Null, with error OUT_OF_BUDGET, for more than ${MOST_CLUSTERED} devices."
  deviceClusters(
    "Only devices that pass."
    filter: DeviceFilter${iterations}
    "Above 1 gives more and smaller clusters."
    resolution: Float! = 1
    "The same seed gives the same clusters."
    seed: Int! = 1
  ): DeviceClusters
  "Exact edit distance between the circuits of two devices, of at most ${MOST_EDIT_NODES} components each. Null, with error TOO_LARGE, above that."
  circuitDistance(
    "Id of a device or specimen."
    from: ID!
    "Id of another."
    to: ID!
    "Only components in subsystems of this kind."
    subsystem: SubsystemKind
  ): CircuitDistance
}
`;

import { MultiDirectedGraph } from 'graphology';
import type { CatalogueRecord, Collection } from '../model/catalogue.ts';
import type { Correction } from '../model/correction.ts';
import type { DecisionJudgement } from '../model/decision.ts';
import type {
  Device,
  Dossier,
  EditorJudgement,
  Identification,
  Observation,
  Withdrawal,
} from '../model/dossier.ts';
import type { PackedDossier } from './compact.ts';
import type { ComponentColumns } from './component-columns.ts';
import { Names } from './names.ts';

/** What the archive holds, folded from the journal. Only `fold.ts` changes it. */
export interface State {
  /** Sequence and instant of the last entry folded in. */
  sequence: number;
  instant: string;
  readonly records: { readonly [C in Collection]: Map<string, CatalogueRecord<C>> };
  readonly devices: Map<string, DeviceRow>;
  readonly specimens: Map<string, SpecimenRow>;
  /** Specimens that may hold a part, by part id. */
  readonly holders: Map<string, Set<string>>;
  /** Makers, productLines, devices, specimens, parts, sources, publications, claims, and how they hang together. */
  readonly knowledge: MultiDirectedGraph;
  /** What editors said of decisions, by decision id, in order. */
  readonly decisions: Map<string, readonly DecisionJudgement[]>;
  /** Corrections by id, in order. */
  readonly corrections: Map<string, Correction>;
  /** Text shared by all component columns. */
  readonly names: Names;
}

export interface DeviceRow {
  readonly device: Device;
  /** The specimen that stands for it in indexes by specimen: its first; undefined for a device that nobody opened. */
  readonly describedBy: string | undefined;
  /** Ids of its specimens, in the order they came. */
  readonly specimens: readonly string[];
}

export interface SpecimenRow {
  readonly id: string;
  readonly deviceId: string;
  readonly visibility: Dossier['visibility'];
  readonly embargoUntil: string | undefined;
  readonly openedOn: string;
  /** The dossier as last filed. */
  readonly filed: PackedDossier;
  /** What was recorded since, one by one. */
  readonly added: Additions;
  readonly columns: ComponentColumns;
  /** Parts that its components may be, by their numbers in `names`. */
  readonly parts: Uint32Array;
  /** Sequence of the last entry that touched it; changes whenever the specimen does. */
  readonly version: number;
}

export interface Additions {
  readonly observations: readonly Observation[];
  readonly identifications: readonly Identification[];
  readonly judgements: readonly EditorJudgement[];
  readonly withdrawals: readonly WithdrawalOf[];
}

export interface WithdrawalOf {
  /** Local id of the observation taken back. */
  readonly observation: string;
  readonly withdrawn: Withdrawal;
}

export const NO_ADDITIONS: Additions = {
  observations: [],
  identifications: [],
  judgements: [],
  withdrawals: [],
};

export function emptyState(): State {
  return {
    sequence: 0,
    instant: '',
    records: {
      makers: new Map(),
      productLines: new Map(),
      devices: new Map(),
      parts: new Map(),
      sources: new Map(),
      publications: new Map(),
      patterns: new Map(),
    },
    devices: new Map(),
    specimens: new Map(),
    holders: new Map(),
    knowledge: new MultiDirectedGraph(),
    decisions: new Map(),
    corrections: new Map(),
    names: new Names(),
  };
}

import type { Component, Dossier, Observation } from '../model/dossier.ts';
import type { Connection, Net } from '../model/net.ts';

/** Probability of each taxonomy term for a component. */
export type TermWeights = ReadonlyMap<string, number>;

/** What is read of a specimen to tell what hangs on its chips: an opened specimen is one. */
export interface Board {
  readonly dossier: Pick<Dossier, 'observations'>;
  readonly components: ReadonlyMap<string, Component>;
  /** Nets and connections that still have evidence. */
  readonly nets: readonly Net[];
  readonly joined: readonly Connection[];
  /** Taxonomy terms with their probability, as seen or identified. */
  readonly named: ReadonlyMap<string, TermWeights>;
  /** Observations by the local id of what they are about. */
  readonly observations: ReadonlyMap<string, readonly Observation[]>;
  /** Components of which somebody has said what they may be. */
  readonly identified: { has(component: string): boolean };
}

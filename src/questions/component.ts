// One component at a glance: all that a dossier and its evidence say of it, together. The code that weighs evidence is loaded
// when first needed.

import type { Candidates, PlacedObservation } from '../identification/questions.ts';
import type {
  Component,
  Device,
  Dossier,
  EditorJudgement,
  Identification,
  Observation,
} from '../model/dossier.ts';
import { recordOfId } from '../model/ids.ts';
import type { Connection } from '../model/net.ts';
import { fallenIn } from '../model/standing.ts';
import type { PinOnNet } from '../state/pins.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { componentPins, type ListedComponent, lineOf } from './contents.ts';

/** What is on record of one component, and what follows from it. Ids inside are those of its dossier. */
export interface ComponentGlance {
  readonly id: string;
  readonly specimen: string;
  readonly device: Device;
  readonly component: Component;
  /** Whether it counts, what it most likely is and by whom that is said. */
  readonly listed: ListedComponent;
  /** The identification that counts; undefined where nobody has made one, or its evidence was withdrawn. */
  readonly identification: Identification | undefined;
  /** Identifications on record beside that one, superseded or withdrawn. */
  readonly earlier: number;
  readonly judgements: readonly EditorJudgement[];
  /** What it may be by the evidence; undefined where nothing is fitted. */
  readonly candidates: Candidates | undefined;
  readonly observations: readonly GlancedObservation[];
  readonly pins: readonly PinOnNet[];
  /** Connections as traced, beside nets or without. */
  readonly connections: readonly Connection[];
  /** Components that it holds. */
  readonly holds: readonly string[];
  readonly photos: Dossier['photos'];
  /** What to look at next, most bits a minute first. */
  readonly next: readonly PlacedObservation[];
}

export interface GlancedObservation {
  readonly observation: Observation;
  /** Observation by which a later one corrected it. */
  readonly correctedBy: string | undefined;
}

/**
 * Everything on record of one component, with its odds and what to look at next.
 * @param id global id of a component
 * @throws CasebackError NOT_FOUND
 */
export async function componentAtAGlance(state: State, id: string): Promise<ComponentGlance> {
  const found = resolved(state, id, ['Component']);
  const { opened, thing: component } = found;
  const device = state.device(recordOfId(opened.id)) as Device;
  const { dossier } = opened;
  const current = opened.identified.get(component.id);
  const isFitted = opened.fitted.includes(component);
  const about = opened.observations.get(component.id) ?? [];
  const fallen = fallenIn(dossier.observations);
  const shown = new Set(about.flatMap(({ photo }) => photo ?? []));
  const { candidatesOf } = await import('../identification/questions.ts');
  const { nextObservationsUnder } = await import('../decisions/next-observations.ts');
  return {
    id: found.id,
    specimen: opened.id,
    device,
    component,
    listed: lineOf(opened, component),
    identification: current,
    earlier: dossier.identifications.filter((one) => one.component === component.id && one !== current)
      .length,
    judgements: (dossier.judgements ?? []).filter((one) => one.component === component.id),
    candidates: isFitted ? await candidatesOf(state, found.id) : undefined,
    observations: about.map((observation) => {
      const why = fallen.get(observation.id);
      return { observation, correctedBy: why && 'correctedBy' in why ? why.correctedBy : undefined };
    }),
    pins: componentPins(state, opened, component),
    connections: opened.connections.get(component.id) ?? [],
    holds: dossier.components.flatMap((one) => (one.inside === component.id ? [one.id] : [])),
    photos: dossier.photos.filter(
      (photo) => shown.has(photo.id) || photo.regions.some(({ of }) => of === component.id),
    ),
    next: isFitted ? await nextObservationsUnder(state, found.id) : [],
  };
}

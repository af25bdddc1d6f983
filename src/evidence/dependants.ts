import { type DecisionEvidence, decisionEvidence } from '../decisions/decision.ts';
import { type Decision, decisionsByPattern, decisionsOf } from '../decisions/decisions.ts';
import { claimIdOf } from '../model/catalogue.ts';
import type { Dossier } from '../model/dossier.ts';
import type { Figure } from '../model/figure.ts';
import { lastOfId, recordOfId, TEARDOWN, thingId } from '../model/ids.ts';
import { resolve } from '../state/resolve.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import { figureCovers } from './figures.ts';

/** One step of dependency: what depends on a thing, and how. */
export interface Dependant {
  readonly id: string;
  /** How it depends on it, such as "is identified by it". */
  readonly how: string;
}

/**
 * What depends directly on a thing, as a state sees it. Decisions are found for the devices that are reached and for no
 * others.
 */
export class Dependants {
  readonly #state: State;
  readonly #signal: AbortSignal | undefined;
  readonly #decisions = new Map<string, Promise<readonly DecisionWithEvidence[]>>();
  #figures: readonly StatedFigures[] | undefined;

  constructor(state: State, signal?: AbortSignal) {
    this.#state = state;
    this.#signal = signal;
  }

  /** @param id global id of anything in the archive */
  async of(id: string): Promise<readonly Dependant[]> {
    const found = [...(await this.#inItsPlace(id)), ...this.#claimsOn(id), ...this.#citing(id)];
    return [...new Map(found.map((one) => [one.id, one])).values()];
  }

  async #inItsPlace(id: string): Promise<readonly Dependant[]> {
    const found = resolve(this.#state, id);
    switch (found?.kind) {
      case undefined:
      case 'Decision':
      case 'Feed':
      case 'ListMapping':
        return [];
      case 'Specimen':
        return [{ id: found.thing.deviceId, how: 'is a unit of it' }];
      case 'Part':
        return this.#onPart(id);
      case 'Claim':
        return [{ id: found.publication.id, how: 'asserts it' }];
      case 'Device':
      case 'Maker':
      case 'ProductLine':
      case 'Source':
      case 'Publication':
      case 'Pattern':
        return this.#onRecord(id);
      case 'Component':
      case 'Board':
      case 'Observation':
      case 'Photo':
      case 'Subsystem':
      case 'Net':
      case 'Teardown':
        return this.#onThing(found.opened, lastOfId(found.id));
      default:
        return found satisfies never;
    }
  }

  async #onRecord(id: string): Promise<readonly Dependant[]> {
    if (this.#state.device(id)) return this.#figuresOver(id);
    const figures = this.#figuresOf(id);
    if (!this.#state.pattern(id)) return figures;
    const decisions = await decisionsByPattern(this.#state, id, this.#signal);
    return [...decisions.map((one) => ({ id: one.id, how: 'is suggested by the pattern' })), ...figures];
  }

  async #onThing(specimen: OpenedSpecimen, local: string): Promise<readonly Dependant[]> {
    const { id: specimenId, dossier } = specimen;
    const at = (id: string) => thingId(specimenId, id);
    const id = at(local);
    const found: Dependant[] = dossier.observations
      .filter(({ photo }) => photo === local)
      .map((one) => ({ id: at(one.id), how: 'is seen on it' }));
    if (dossier.observations.some((one) => one.id === local))
      found.push(...dependantsOfObservation(dossier, local, at));
    if (local === TEARDOWN) found.push({ id: specimenId, how: 'was opened in it' });
    if (
      specimen.components.has(local) ||
      specimen.boards.has(local) ||
      dossier.nets?.some((one) => one.id === local)
    )
      found.push({ id: specimenId, how: 'holds it' });
    for (const { decision, evidence } of await this.#decisionsOf(recordOfId(specimenId))) {
      if (evidence.things.includes(id)) found.push({ id: decision.id, how: 'is made of it' });
      else if (evidence.observations.includes(id))
        found.push({ id: decision.id, how: 'is supported by what it shows' });
    }
    return found;
  }

  #onPart(id: string): readonly Dependant[] {
    const relabels = this.#state.linkedFrom(id, 'RELABELS');
    const components = this.#state.holdersOf(id).flatMap((row) => {
      const specimen = this.#state.specimen(row.id);
      return [...(specimen?.identified ?? [])].flatMap(([component, { candidates }]) =>
        candidates.some(({ part, probability }) => part === id && probability > 0)
          ? [{ id: thingId(row.id, component), how: 'may be it' }]
          : [],
      );
    });
    return [
      ...relabels.map((other) => ({ id: other, how: 'is it under a new label' })),
      ...components,
      ...this.#figuresOf(id),
    ];
  }

  /** Claims that name a thing as support. */
  #claimsOn(id: string): readonly Dependant[] {
    return this.#state.linkedFrom(id, 'SUPPORTED_BY').flatMap((claim) => {
      const seen = resolve(this.#state, claim)?.kind === 'Claim';
      return seen ? [{ id: claim, how: 'is supported by it' }] : [];
    });
  }

  /** Observations and identifications that cite a sentence or a source. */
  #citing(id: string): readonly Dependant[] {
    return this.#state.linkedFrom(id, 'CITES').flatMap((specimenId) => {
      const dossier = this.#state.specimen(specimenId)?.dossier;
      if (!dossier) return [];
      const citing = (cites: readonly string[] | undefined) => cites?.includes(id) === true;
      return [
        ...dossier.observations.flatMap((one) => (citing(one.cites) ? [one.id] : [])),
        ...dossier.identifications.flatMap((one) => (citing(one.cites) ? [one.component] : [])),
      ].map((local) => ({ id: thingId(specimenId, local), how: 'cites it' }));
    });
  }

  /** Claims that state a figure over a device. */
  #figuresOver(device: string): readonly Dependant[] {
    return this.#stated()
      .filter(({ covers }) => covers(device))
      .map(({ claim }) => ({ id: claim, how: 'states a figure over it' }));
  }

  /** Claims that state how many devices have a pattern, a part, or parts of a maker. */
  #figuresOf(subject: string): readonly Dependant[] {
    return this.#stated()
      .filter(({ subjects }) => subjects.has(subject))
      .map(({ claim }) => ({ id: claim, how: 'counts devices with it' }));
  }

  #stated(): readonly StatedFigures[] {
    this.#figures ??= statedFigures(this.#state);
    return this.#figures;
  }

  #decisionsOf(device: string): Promise<readonly DecisionWithEvidence[]> {
    let found = this.#decisions.get(device);
    if (!found) {
      found = decisionsOf(this.#state, device, this.#signal).then((decisions) =>
        decisions.map((decision) => ({
          decision,
          evidence: decisionEvidence(decision.matches, (id) => this.#state.specimen(id)),
        })),
      );
      this.#decisions.set(device, found);
    }
    return found;
  }
}

interface DecisionWithEvidence {
  readonly decision: Decision;
  readonly evidence: DecisionEvidence;
}

/** What depends on an observation inside its dossier. */
function dependantsOfObservation(
  dossier: Dossier,
  observation: string,
  at: (id: string) => string,
): readonly Dependant[] {
  const about = dossier.observations.find(({ id }) => id === observation)?.about ?? [];
  return [
    ...about.map((id) => ({ id: at(id), how: 'is what it is about' })),
    ...dossier.identifications
      .filter(({ basis }) => basis.includes(observation))
      .map(({ component }) => ({ id: at(component), how: 'is identified by it' })),
    ...(dossier.nets ?? [])
      .filter(({ basis }) => basis.includes(observation))
      .map(({ id }) => ({ id: at(id), how: 'is shown by it' })),
  ];
}

interface StatedFigures {
  /** Id of the claim. */
  readonly claim: string;
  /** Whether some of its figures are over a device. */
  covers(deviceId: string): boolean;
  /** Ids of the patterns, parts and makers counted. */
  readonly subjects: ReadonlySet<string>;
}

/** Visible claims with figures, and what the figures are over. */
export function statedFigures(state: State): readonly StatedFigures[] {
  return state.publications().flatMap((publication) =>
    publication.claims.flatMap((claim) => {
      const { figures } = claim;
      if (!figures) return [];
      const covering = figures.map((figure) => figureCovers(state, figure));
      const covers = (id: string) => covering.some((one) => one(id));
      const subjects = new Set(figures.flatMap(figureSubject));
      return [{ claim: claimIdOf(publication, claim), covers, subjects }];
    }),
  );
}

function figureSubject(figure: Figure): readonly string[] {
  if ('compare' in figure) return [];
  const subject = 'share' in figure ? figure.share : 'count' in figure ? figure.count : figure.trend;
  return 'category' in subject ? [] : Object.values(subject);
}

import { type Resolved, resolve } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { observationText } from './support.ts';

/** What a thing in the archive is, and a short description. */
export interface Named {
  readonly id: string;
  /** Label of the thing, such as `Observation`. */
  readonly kind: string;
  /** In a few words. */
  readonly description: string;
}

/** Kind and name of anything that a state sees; undefined when it sees nothing of that id. */
export function describeThing(state: State, id: string): Named | undefined {
  const found = resolve(state, id);
  return found && { id: found.id, kind: found.kind, description: calledBy(found) };
}

function calledBy(found: Resolved): string {
  switch (found.kind) {
    case 'Device':
    case 'Maker':
    case 'ProductLine':
    case 'Pattern':
      return found.thing.name;
    case 'Publication':
    case 'Source':
    case 'Feed':
    case 'ListMapping':
      return found.thing.title;
    case 'Specimen':
      return `opened ${found.thing.openedOn}`;
    case 'Part':
      return found.thing.name ?? found.id;
    case 'Claim':
      return found.thing.sentence;
    case 'Component': {
      const { id, appears, fitted } = found.thing;
      if (fitted === false) return `${id}, not fitted`;
      const top = found.opened.identified.get(id)?.candidates[0];
      const taken = top?.part ?? top?.category ?? appears;
      return taken ? `${id}, identified as ${taken}` : `${id}, not identified`;
    }
    case 'Board':
      return found.thing.name ?? `${found.thing.kind} board`;
    case 'Observation':
      return observationText(found.thing);
    case 'Photo':
      return found.thing.caption ?? `photo by ${found.thing.credit}`;
    case 'Subsystem':
      return found.thing.name ?? found.thing.kind;
    case 'Net':
      return found.thing.label ?? `${found.thing.kind} net`;
    case 'Teardown':
      return `opened ${found.thing.on}`;
    case 'Decision':
      return `${found.device.name}: ${found.pattern.name}`;
    default:
      return found satisfies never;
  }
}

import type { Candidate, EditorJudgement, Identification } from '../model/dossier.ts';
import { thingId } from '../model/ids.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { tidy } from '../statistics/tidy.ts';
import type { Inside } from './inside.ts';
import { agent, dated, type LinkedNode, type Linking, nothingLeft, typed } from './nodes.ts';
import { recordIri } from './places.ts';

// What was concluded of components. Identifications and judgements have no ids of their own; they are parts of their component,
// numbered in the order in which they came, as far as the asker sees them.

/** Identifications with their candidates; a later one of a component revises the one before. */
export function identificationNodes(inside: Inside, all: readonly Identification[]): readonly LinkedNode[] {
  const last = new Map<string, string>();
  const numbered = numbers();
  return all.map((identification) => {
    const { component, candidates, state, basis, cites, by, on, reason, ...marked } = identification;
    const { visibility, embargoUntil, ...rest } = marked;
    nothingLeft(rest);
    const name = `identification-${numbered(component)}`;
    const id = inside.partOf(component, name);
    const before = last.get(component);
    last.set(component, id);
    return {
      id,
      ...typed('Identification'),
      about: inside.at(component),
      state,
      current: inside.opened.identified.get(component) === identification,
      candidate: candidates.map((candidate, i) => ({
        id: inside.partOf(component, `${name}-candidate-${i + 1}`),
        ...candidateNode(inside.link, candidate),
      })),
      unknownProbability: tidy(Math.max(0, 1 - candidates.reduce((sum, one) => sum + one.probability, 0))),
      derivedFrom: inside.all(basis),
      cites: inside.link.toAll(cites),
      revisionOf: before,
      reason,
      generatedBy: {
        id: inside.partOf(component, `${name}-concluding`),
        ...typed('Concluding'),
        date: dated(on),
        associatedWith: agent(by),
        used: inside.all(basis),
      },
      ...inside.link.marks({ visibility, embargoUntil }),
    };
  });
}

/** Address of the identification of a component that counts. @param local id of the component */
export function currentIdentification(
  { id, dossier, identified }: OpenedSpecimen,
  local: string,
): string | undefined {
  const own = dossier.identifications.filter(({ component }) => component === local);
  const at = own.indexOf(identified.get(local) as Identification);
  return at < 0 ? undefined : recordIri(thingId(id, local), `identification-${at + 1}`);
}

function candidateNode(link: Linking, candidate: Candidate): LinkedNode {
  const { part, category, maker, probability, ...rest } = candidate;
  nothingLeft(rest);
  return {
    type: 'Candidate',
    part: link.to(part),
    kind: link.to(category),
    maker: link.to(maker),
    probability,
  };
}

/** What editors weigh for or against a part. */
export function judgementNodes(inside: Inside, all: readonly EditorJudgement[]): readonly LinkedNode[] {
  const numbered = numbers();
  return all.map(({ component, part, decibans, by, reason, on, ...rest }) => {
    nothingLeft(rest);
    const name = `judgement-${numbered(component)}`;
    return {
      id: inside.partOf(component, name),
      ...typed('Judgement'),
      about: inside.at(component),
      part: inside.link.to(part),
      decibans,
      reason,
      generatedBy: {
        id: inside.partOf(component, `${name}-judging`),
        ...typed('Judging'),
        date: dated(on),
        associatedWith: agent(by),
      },
    };
  });
}

/** Counts 1, 2, 3 … for each name. */
function numbers(): (name: string) => number {
  const counts = new Map<string, number>();
  return (name) => {
    const number = (counts.get(name) ?? 0) + 1;
    counts.set(name, number);
    return number;
  };
}

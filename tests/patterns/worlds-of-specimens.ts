import {
  type EdgeInput,
  loadFunctions,
  matchBySegment,
  type NodeInput,
  PatternGraph,
  prepare,
} from '../../src/gql/gql.ts';
import { VOCABULARY } from '../../src/pattern-texts/vocabulary.ts';
import { patternIndexOf } from '../../src/patterns/pattern-index.ts';
import { recordSegment, specimenSegment, whenOf } from '../../src/patterns/segments.ts';
import type { Alternatives } from '../../src/patterns/worlds.ts';
import type { State } from '../../src/state/state.ts';
import { has } from '../../src/statistics/bits.ts';

// Every world of a specimen as a graph of its own in which nothing is uncertain, and the texts asked of each: the definition
// itself. It shares the engine with what it is held against, but none of what the engine knows of uncertainty.

const FUNCTIONS = new URL('../../src/pattern-texts/functions.ts', import.meta.url).href;
const MOST_WORLDS = 4096;

/** Labels that a text tells apart; undefined for all of them. */
function labelsOf(text: string): ReadonlySet<string> | undefined {
  const names = new Set(text.match(/[A-Z]\w+/gu) ?? []);
  // Negations and wildcards are about labels that are named, or any.
  return /%/u.test(text) ? undefined : names;
}

/** Links that follow from nets, each with the condition under which it is there. */
const FROM_NETS = ['JOINS', 'SHARES_NET', 'SHARES_BUS', 'SIGNAL_PATH', 'FEEDS'];

/** What components have to be for an edge to be there: at least one of the lists holds. */
function whenThere({ label = '', properties }: EdgeInput): ReturnType<typeof whenOf> {
  return FROM_NETS.includes(label) ? whenOf({ property: (key) => properties?.[key] }) : [[]];
}

interface Choice {
  readonly id: string;
  readonly alternatives: Alternatives;
  /** Alternatives that the text tells apart, each with its mass. */
  readonly ways: readonly { readonly at: number; readonly mass: number }[];
}

function choicesOf(
  state: State,
  text: string,
  specimen: string,
  edges: readonly EdgeInput[],
): readonly Choice[] {
  const asked = edges.flatMap(whenThere).flat();
  const index = patternIndexOf(state);
  const opened = state.specimen(specimen);
  const labels = labelsOf(text);
  const partsMatter = /IDENTIFIED_AS|\]?-\[\]|-->|<--|--/u.test(text) || /-\[\w*\]/u.test(text);
  return (opened?.fitted ?? []).flatMap(({ id: local }) => {
    const id = `${specimen}/${local}`;
    const alternatives = index.alternativesOf(state, id);
    if (!alternatives) return [];
    const { probabilities, terms, parts } = alternatives;
    const masses = [...probabilities, 1 - probabilities.reduce((sum, p) => sum + p, 0)];
    const merged = new Map<string, { at: number; mass: number }>();
    masses.forEach((mass, at) => {
      if (mass <= 1e-12) return;
      const named = [...terms[at]].filter((term) => labels?.has(term) ?? true).sort();
      const links = asked.flatMap((one) => (one.id === id ? [has(one.bits, at)] : []));
      const key = JSON.stringify([named, partsMatter ? parts[at] : undefined, links]);
      const known = merged.get(key);
      if (known) known.mass += mass;
      else merged.set(key, { at, mass });
    });
    return [{ id, alternatives, ways: [...merged.values()] }];
  });
}

/** Probability of a text in one specimen, by enumeration; undefined where that has too many worlds. */
export async function byEnumeration(
  state: State,
  text: string,
  specimen: string,
  distinctNodes = true,
): Promise<number | undefined> {
  await loadFunctions(FUNCTIONS);
  const opened = state.specimen(specimen);
  const row = state.specimenRow(specimen);
  if (!opened || !row) return undefined;
  const device = state.facts.devices.get(row.deviceId);
  const segment = specimenSegment(opened, row.deviceId, device?.device, (part) => state.part(part));
  const mayBeAny = /-\[\w*\]|--|<-->|~~/u.test(text);
  const linked = (segment.edges ?? []).filter(
    ({ label = '' }) => mayBeAny || !FROM_NETS.includes(label) || text.includes(label),
  );
  const choices = choicesOf(state, text, specimen, linked);
  const open = choices.filter(({ ways }) => ways.length > 1);
  const worlds = open.reduce((product, { ways }) => product * ways.length, 1);
  if (worlds > MOST_WORLDS) return undefined;
  const graph = new PatternGraph({ edgeLabels: VOCABULARY.edgeLabels });
  for (const collection of ['makers', 'productLines', 'parts'] as const)
    for (const [id, record] of state.facts.records[collection]) {
      const shared = recordSegment(collection, record);
      if (shared) graph.putSegment(`record:${id}`, shared);
    }
  const own = new Set(segment.nodes.map(({ id }) => id));
  const masses = new Map<string, number>();
  for (let world = 0; world < worlds; world++) {
    let mass = 1;
    let left = world;
    const chosen = new Map<string, number>();
    for (const { id, ways } of choices) {
      const way = ways.length > 1 ? ways[left % ways.length] : ways[0];
      if (ways.length > 1) {
        left = Math.floor(left / ways.length);
        mass *= way.mass;
      }
      chosen.set(id, way.at);
    }
    const key = `world-${world}`;
    masses.set(key, mass);
    const there = (id: string) => (own.has(id) ? `${key}/${id}` : id);
    const alternativesOf = new Map(choices.map(({ id, alternatives }) => [id, alternatives]));
    const nodes = segment.nodes.map((node): NodeInput => {
      const alternatives = alternativesOf.get(node.id);
      const labels = alternatives ? [...alternatives.terms[chosen.get(node.id) as number]] : certain(node);
      return { ...node, id: there(node.id), labels };
    });
    const edges = linked.flatMap((edge): EdgeInput[] => {
      const isThere = whenThere(edge).some((all) =>
        all.every(({ id, bits }) => has(bits, chosen.get(id) as number)),
      );
      if (!isThere) return [];
      const alternatives = alternativesOf.get(edge.source);
      if (edge.label === 'IDENTIFIED_AS' && alternatives)
        if (alternatives.parts[chosen.get(edge.source) as number] !== edge.target) return [];
      return [{ ...edge, uncertain: false, source: there(edge.source), target: there(edge.target) }];
    });
    graph.putSegment(key, { nodes, edges });
  }
  const pattern = prepare(text, { functions: FUNCTIONS });
  const isDistinct = distinctNodes && !pattern.repeatsElements;
  let total = 0;
  const found = matchBySegment(graph, pattern, {
    distinctNodes: isDistinct,
    matchesPerSegment: 1,
    exactCounts: false,
    roaming: ['Device', 'Specimen'],
    where: 'here',
    budgets: { time: 60_000 },
  });
  for await (const { key } of found) total += masses.get(key) ?? 0;
  return total;
}

function certain({ id, labels }: NodeInput): readonly string[] {
  const names =
    labels instanceof Map ? [...labels] : (labels as string[]).map((label) => [label, 1] as const);
  return names.map(([label, weight]) => {
    if (weight !== 1) throw new Error(`${id} is ${label} with ${weight}, but has no alternatives`);
    return label as string;
  });
}

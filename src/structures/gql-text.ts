import type { LinkLabels, Relation, Structure, StructureLink } from './answer.ts';

/** How what joins components was distinguished. */
export interface LinkQuestion {
  readonly links: LinkLabels;
  readonly relations: readonly Relation[];
}

/** Label of the edges that patterns see. */
const EDGE_LABELS: Readonly<Record<Relation, string>> = {
  feeds: 'FEEDS',
  'signal-path': 'SIGNAL_PATH',
  'shares-net': 'SHARES_NET',
  'shares-bus': 'SHARES_BUS',
  connects: 'CONNECTS',
};

/**
 * A structure as a pattern in the read-only subset of ISO/IEC 39075 (GQL) that `gql/` runs. Asked with distinct
 * nodes, as named patterns are, it finds every device that the structure has, and beside these only devices in which a
 * kind is not certain.
 * @param asked what joined components; by bus, a link of unknown bus must have none
 */
export function gqlText({ kinds, links }: Structure, asked: LinkQuestion): string {
  const names = variables(kinds);
  const conditions: string[] = [];
  const named = new Set<number>();
  const node = (at: number) => {
    if (named.has(at)) return `(${names[at]})`;
    named.add(at);
    return `(${names[at]}:${kinds[at]})`;
  };
  const paths = links.map((link, at) => {
    const [from, to] = [node(link.from), node(link.to)];
    const isUnknown = asked.links === 'bus' && link.bus === undefined && hasBus(link, asked);
    if (isUnknown) conditions.push(`link${at + 1}.bus IS NULL`);
    if (link.alone) {
      const others = asked.relations.filter((one) => one !== 'connects');
      conditions.push(`NOT EXISTS { (${names[link.from]})${anyOf(others)}(${names[link.to]}) }`);
    }
    conditions.push(...boardCondition(link, names));
    if (link.relation === undefined) return `${from}${anyOf(asked.relations)}${to}`;
    const edge = `[${isUnknown ? `link${at + 1}` : ''}:${EDGE_LABELS[link.relation]}${properties(link)}]`;
    return link.relation === 'feeds' ? `${from}-${edge}->${to}` : `${from}~${edge}~${to}`;
  });
  const where = conditions.length > 0 ? `\nWHERE ${conditions.join('\n  AND ')}` : '';
  return `MATCH ${paths.join(',\n      ')}${where}\nRETURN ${names.join(', ')}`;
}

/** Whether links of this kind are told apart by bus: a supply has none, and what carries no current goes by its medium. */
function hasBus({ relation, alone }: StructureLink, { relations }: LinkQuestion): boolean {
  if (relation === 'connects') return alone ?? relations.every((one) => one === 'connects');
  return relation === 'signal-path' || relation === 'shares-net';
}

/** Joined in any of some ways, whatever the direction. */
function anyOf(relations: readonly Relation[]): string {
  const labels = relations.map((one) => EDGE_LABELS[one]).join('|');
  return relations.includes('feeds') ? `-[:${labels}]-` : `~[:${labels}]~`;
}

function properties({ bus, medium }: StructureLink): string {
  if (bus !== undefined) return ` {bus: '${bus}'}`;
  return medium === undefined ? '' : ` {medium: '${medium}'}`;
}

function boardCondition({ from, to, boards }: StructureLink, names: readonly string[]): readonly string[] {
  const [a, b] = [`${names[from]}.board`, `${names[to]}.board`];
  switch (boards) {
    case undefined:
      return [];
    case 'one':
      return [`${a} = ${b}`];
    case 'two':
      return [`${a} <> ${b}`];
    case 'unknown':
      return [`(${a} IS NULL OR ${b} IS NULL)`];
    default:
      return boards satisfies never;
  }
}

/** `accelerometer`, or `emitter1` and `emitter2`, in the order of the components. */
export function variables(kinds: readonly string[]): readonly string[] {
  return kinds.map((kind, at) => {
    const name = kind[0].toLowerCase() + kind.slice(1);
    if (kinds.filter((one) => one === kind).length === 1) return `the${kind}`;
    return `${name}${kinds.slice(0, at + 1).filter((one) => one === kind).length}`;
  });
}

/** In words: `Accelerometer –I2C– Microcontroller; LinearRegulator –feeds→ Microcontroller`. */
export function structureText({ kinds, links }: Structure): string {
  const numbered = kinds.map((kind, at) => {
    if (kinds.filter((one) => one === kind).length === 1) return kind;
    return `${kind} ${kinds.slice(0, at + 1).filter((one) => one === kind).length}`;
  });
  return links
    .map((link) => {
      const { from, to, relation, boards } = link;
      const place = boards === 'one' ? ', one board' : boards === 'two' ? ', two boards' : '';
      return `${numbered[from]} –${wordFor(link)}${place}${relation === 'feeds' ? '→' : '–'} ${numbered[to]}`;
    })
    .join('; ');
}

function wordFor({ relation, bus, medium }: StructureLink): string {
  switch (relation) {
    case undefined:
      return 'joined';
    case 'feeds':
      return 'feeds';
    case 'signal-path':
      return bus ?? 'signal';
    case 'shares-net':
      return bus === undefined ? 'net' : `net, ${bus}`;
    case 'shares-bus':
      return `shared ${bus}`;
    case 'connects':
      return bus ?? medium ?? 'connection';
    default:
      return relation satisfies never;
  }
}

import type { Structure, StructureLink } from './answer.ts';

/**
 * A structure as a pattern in the read-only subset of ISO/IEC 39075 (GQL) that `gql/` runs. Asked with distinct
 * nodes, as named patterns are, it finds every device that the structure has, and beside these only devices in which a
 * kind is not certain.
 * @param toldApartBy what distinguishes connections; with `bus`, a connection of unknown bus must have none
 */
export function gqlText({ kinds, links }: Structure, toldApartBy: 'bus' | 'medium' | 'none' = 'bus'): string {
  const names = variables(kinds);
  const conditions: string[] = [];
  const named = new Set<number>();
  const node = (at: number) => {
    if (named.has(at)) return `(${names[at]})`;
    named.add(at);
    return `(${names[at]}:${kinds[at]})`;
  };
  const paths = links.map((link, at) => {
    const needsName = toldApartBy === 'bus' && link.medium !== undefined;
    if (needsName) conditions.push(`link${at + 1}.bus IS NULL`);
    conditions.push(...boardCondition(link, names));
    return `${node(link.from)}~[${needsName ? `link${at + 1}` : ''}:CONNECTS${properties(link)}]~${node(link.to)}`;
  });
  const where = conditions.length > 0 ? `\nWHERE ${conditions.join('\n  AND ')}` : '';
  return `MATCH ${paths.join(',\n      ')}${where}\nRETURN ${names.join(', ')}`;
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

/** In words: `Accelerometer –I2C– Microcontroller; Microcontroller –power– Regulator`. */
export function structureText({ kinds, links }: Structure): string {
  const numbered = kinds.map((kind, at) => {
    if (kinds.filter((one) => one === kind).length === 1) return kind;
    return `${kind} ${kinds.slice(0, at + 1).filter((one) => one === kind).length}`;
  });
  return links
    .map(({ from, to, bus, medium, boards }) => {
      const place = boards === 'one' ? ', one board' : boards === 'two' ? ', two boards' : '';
      const joined = `${bus ?? medium ?? 'joined'}${place}`;
      return `${numbered[from]} –${joined}– ${numbered[to]}`;
    })
    .join('; ');
}

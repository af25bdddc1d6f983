/** What a hop gathers on its way, as columns of the part of the WITH clause that is at hand. */

/** Lists that a hop gathers, as columns. */
export interface HopColumns {
  /** Numbers of its edges. */
  readonly edges: string | undefined;
  /** Nodes between its ends. */
  readonly inside: string | undefined;
  /** Edges and nodes in turn after its first node, as items of a list. */
  readonly elements: string | undefined;
  readonly walk: string | undefined;
  readonly ids: string | undefined;
  readonly steps: string | undefined;
  readonly groups: ReadonlyMap<string, string>;
}

/** Names of the columns, without the part. */
export function hopColumnNames(hop: HopColumns): string[] {
  const { edges, inside, elements, walk, ids, steps, groups } = hop;
  return [edges, inside, elements, walk, ids, steps, ...groups.values()].flatMap((sql) =>
    sql === undefined ? [] : [sql.slice(sql.indexOf('.') + 1)],
  );
}

/** The same columns of another part. */
export function renamed(hop: HopColumns, base: string): HopColumns {
  const at = (sql: string | undefined) =>
    sql === undefined ? undefined : `${base}.${sql.slice(sql.indexOf('.') + 1)}`;
  return {
    edges: at(hop.edges),
    inside: at(hop.inside),
    elements: at(hop.elements),
    walk: at(hop.walk),
    ids: at(hop.ids),
    steps: at(hop.steps),
    groups: new Map([...hop.groups].map(([name, sql]) => [name, at(sql)!])),
  };
}

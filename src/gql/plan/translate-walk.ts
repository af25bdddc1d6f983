import type { Condition } from './pattern.ts';
import type { ChainEdge, ChainItem, ChainNode, ChainRepeat } from './quantified-path.ts';
import type { TranslateContext } from './translate-context.ts';
import type { Body, BodyItem } from './translate-iteration.ts';

/** The walk through a quantified path in one direction. */
export function chainOf(body: Body, reversed: boolean, context: TranslateContext): ChainRepeat {
  // A variable that occurs twice is bound where the walk meets it first.
  const seen = new Set<number>();
  const ordered = reversed ? [...body.items].reverse() : body.items;
  const items = ordered.map((item): ChainItem => {
    if (item.kind === 'body') return chainOf(item.body, reversed, context);
    const again = seen.has(item.slot);
    seen.add(item.slot);
    if (item.kind === 'node') {
      const node: ChainNode = {
        kind: 'node',
        slot: item.slot,
        again,
        table: context.nodeTable(item.label),
        conditions: [],
      };
      return node;
    }
    const edge: ChainEdge = {
      kind: 'edge',
      slot: item.slot,
      again,
      codes: context.codes(item.label, item.directions, reversed),
      conditions: [],
    };
    return edge;
  });
  return {
    kind: 'repeat',
    items: placeConditions(ordered, items),
    least: body.least,
    most: body.most,
    conditions: body.conditions,
    groups: body.groups,
    paths: body.paths,
    elementsSlot: body.elementsSlot,
    optional: body.optional,
  };
}

/** Puts every condition at the first item of the walk at which all it reads inside the iteration is bound. */
function placeConditions(ordered: readonly BodyItem[], items: readonly ChainItem[]): ChainItem[] {
  const placed = items.map((item) =>
    'conditions' in item ? { ...item, conditions: [...item.conditions] } : item,
  );
  const available = new Set<number>();
  const inside = new Set(ordered.flatMap((item) => (item.kind === 'body' ? [] : [item.slot])));
  const waiting = ordered.flatMap((item) => (item.kind === 'body' ? [] : item.conditions));
  const done = new Set<Condition>();
  ordered.forEach((item, i) => {
    if (item.kind !== 'body') available.add(item.slot);
    for (const condition of waiting) {
      const ready = condition.slots.every((slot) => !inside.has(slot) || available.has(slot));
      if (!ready || done.has(condition)) continue;
      done.add(condition);
      const target = placed[i]!;
      if (target.kind !== 'repeat') (target.conditions as Condition[]).push(condition);
    }
  });
  return placed;
}

import type { Condition } from './pattern.ts';
import type { ChainEdge, ChainItem, ChainNode, ChainRepeat } from './quantified-path.ts';
import type { TranslateContext } from './translate-context.ts';
import type { Body, BodyItem } from './translate-iteration.ts';

/** The walk through a quantified path in one direction. */
export function chainOf(body: Body, reversed: boolean, context: TranslateContext): ChainRepeat {
  return {
    kind: 'repeat',
    items: itemsOf(body.items, reversed, context, new Set(body.known)),
    least: body.least,
    most: body.most,
    conditions: body.conditions,
    groups: body.groups,
    paths: body.paths,
    elementsSlot: body.elementsSlot,
    optional: body.optional,
  };
}

/** @param seen slots that are bound before; receives those of the items. A variable that occurs twice is bound where it is met first. */
function itemsOf(
  list: readonly BodyItem[],
  reversed: boolean,
  context: TranslateContext,
  seen: Set<number>,
): ChainItem[] {
  const ordered = reversed ? [...list].reverse() : list;
  const items = ordered.map((item): ChainItem => {
    if (item.kind === 'body') return chainOf(item.body, reversed, context);
    if (item.kind === 'choice') {
      const before = [...seen];
      const branches = item.branches.map((branch) => {
        const own = new Set(before);
        const inside = itemsOf(branch, reversed, context, own);
        for (const slot of own) seen.add(slot);
        return inside;
      });
      return { kind: 'choice', branches, tagSlot: item.tagSlot, elementsSlot: item.elementsSlot };
    }
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
  return placeConditions(ordered, items);
}

/** Puts every condition at the first item of the walk at which all it reads inside the iteration is bound. */
function placeConditions(ordered: readonly BodyItem[], items: readonly ChainItem[]): ChainItem[] {
  const placed = items.map((item) =>
    'conditions' in item ? { ...item, conditions: [...item.conditions] } : item,
  );
  const available = new Set<number>();
  const elements = ordered.filter((item) => item.kind === 'node' || item.kind === 'edge');
  const inside = new Set(elements.map(({ slot }) => slot));
  const waiting = elements.flatMap(({ conditions }) => conditions);
  const done = new Set<Condition>();
  ordered.forEach((item, i) => {
    const target = placed[i]!;
    if ((item.kind !== 'node' && item.kind !== 'edge') || (target.kind !== 'node' && target.kind !== 'edge'))
      return;
    available.add(item.slot);
    for (const condition of waiting) {
      const ready = condition.slots.every((slot) => !inside.has(slot) || available.has(slot));
      if (!ready || done.has(condition)) continue;
      done.add(condition);
      (target.conditions as Condition[]).push(condition);
    }
  });
  return placed;
}

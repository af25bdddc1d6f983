import type { DossierRule } from './context.ts';

/** A connection joins two different things. */
export const connectionsJoinTwoThings: DossierRule = (document, report) => {
  document.dossier.connections.forEach(({ between: [a, b] }, i) => {
    if (a === b)
      report(document, ['connections', i, 'between'], `joins "${a}" to itself`, 'name the other end');
  });
};

/** Nothing holds itself: not through modules, not through stacked boards, not through corrections. */
export const nothingHoldsItself: DossierRule = (document, report) => {
  const { components, boards, observations } = document.dossier;
  const chains = [
    { list: 'components', field: 'inside', next: components.map(({ id, inside }) => [id, inside] as const) },
    { list: 'boards', field: 'stackedOn', next: boards.map(({ id, stackedOn }) => [id, stackedOn] as const) },
    {
      list: 'observations',
      field: 'corrects',
      next: observations.map(({ id, corrects }) => [id, corrects] as const),
    },
  ];
  for (const { list, field, next } of chains) {
    const to = new Map(next);
    next.forEach(([id], i) => {
      const path = [id];
      for (let at = to.get(id); at !== undefined && !path.includes(at); at = to.get(at)) path.push(at);
      if (to.get(path[path.length - 1]) === id) {
        report(
          document,
          [list, i, field],
          `goes in a circle: ${[...path, id].join(' > ')}`,
          'leave one of the steps out',
        );
      }
    });
  }
};

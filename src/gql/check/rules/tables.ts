import type { Syntax, TableClause } from '../../language/ast.ts';
import { children } from '../../language/children.ts';
import { columnNames } from '../../plan/free-names.ts';
import type { CheckContext, Rule } from '../rule.ts';

/** 14.2 <composite query expression>, syntax rules: the columns have the same names, in any order. */
export const tables: Rule = {
  sentence:
    'UNION, EXCEPT, INTERSECT and OTHERWISE combine queries whose columns have the same names; VALUE has one column.',
  check({ query, report }) {
    const look = (node: Syntax): void => {
      if (node.kind === 'table') {
        const [first, ...others] = node.parts.map((part) => ({ part, names: columnNames(part.query) }));
        for (const { part, names } of others) {
          const missing = first!.names.filter((name) => !names.includes(name));
          const more = names.filter((name) => !first!.names.includes(name));
          if (missing.length === 0 && more.length === 0) continue;
          const lists = [first!.names, names].map((list) => list.map((name) => `"${name}"`).join(', '));
          const word = part.conjunction!.split(' ')[0];
          const message = `The columns before ${word} are ${lists[0]}, here they are ${lists[1]}; name them alike with AS.`;
          report('return-items', part.query.result.span, message);
        }
      }
      if (node.kind === 'value-query' && columnNames(node.query).length !== 1)
        report(
          'return-items',
          node.query.result.span,
          'VALUE { … } is one value, so it returns one column; a record {a: …, b: …} holds several.',
        );
      if (node.kind === 'table') lastPage(node, report);
      for (const child of children(node)) look(child);
    };
    look(query);
  },
};

/** ORDER BY and LIMIT behind the last of several queries are its own, where the others have none. */
function lastPage({ parts }: TableClause, report: CheckContext['report']): void {
  const last = parts.at(-1)!;
  if (!last.conjunction || last.conjunction.startsWith('OTHERWISE')) return;
  const isPaged = ({ query: { orderBy, offset, limit } }: (typeof parts)[number]): boolean =>
    orderBy.length > 0 || !!offset || !!limit;
  if (!isPaged(last) || parts.slice(0, -1).some(isPaged)) return;
  const { orderBy, offset, limit } = last.query;
  const what = orderBy.length > 0 ? 'ORDER BY' : offset ? 'OFFSET' : 'LIMIT';
  const { span } = orderBy[0] ?? offset ?? limit!;
  const word = last.conjunction.split(' ')[0];
  report(
    what === 'ORDER BY' ? 'sort-key' : 'page',
    span,
    `${what} is about the query behind ${word} alone; for all rows write NEXT RETURN * ${what} … behind them.`,
    { severity: 'warning' },
  );
}

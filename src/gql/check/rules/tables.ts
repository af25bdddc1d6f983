import type { Syntax } from '../../language/ast.ts';
import { children } from '../../language/children.ts';
import { columnNames } from '../../plan/free-names.ts';
import type { Rule } from '../rule.ts';

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
      for (const child of children(node)) look(child);
    };
    look(query);
  },
};

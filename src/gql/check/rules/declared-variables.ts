import { nearNames } from '../../../text/near.ts';
import { expressionsIn } from '../analysis.ts';
import type { Rule } from '../rule.ts';

/** 16.10 <element variable reference>, 16.9 <path variable reference>, 20.12 <binding variable reference>. */
export const declaredVariables: Rule = {
  sentence:
    'Every variable that is referred to is declared in a pattern that comes before or around the place.',
  ofEach: true,
  check({ analysis, query, report }) {
    for (const site of analysis.sites) {
      for (const node of expressionsIn(site.root)) {
        if (node.kind !== 'variable') continue;
        const known = site.find(node.name);
        if (!known) {
          const near = nearNames(node.name, site.names());
          const message = analysis.ended.has(node.name)
            ? `"${node.name}" ends with the query that declares it; its RETURN before NEXT has to hand it on.`
            : `No pattern declares "${node.name}".`;
          report('undeclared-variable', node.span, message, { near });
        } else if (known.inside) {
          const fix = 'refer to it after WHERE of the MATCH';
          report(
            'undeclared-variable',
            node.span,
            `The path "${node.name}" is not complete inside its own pattern; ${fix}.`,
          );
        }
      }
    }
    const aliases = new Set(query.result.items?.flatMap(({ alias }) => alias?.text ?? []));
    const known = [...analysis.variables.keys(), ...aliases];
    for (const { name, span } of query.result.groupBy ?? []) {
      if (known.includes(name)) continue;
      report('undeclared-variable', span, `GROUP BY names neither a variable nor a column "${name}".`, {
        near: nearNames(name, known),
      });
    }
  },
};

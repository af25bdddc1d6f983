import { nearNames } from '../../../text/near.ts';
import type { Parameter, Syntax } from '../../language/ast.ts';
import { children } from '../../language/children.ts';
import type { Rule } from '../rule.ts';

/** 20.4 <dynamic parameter specification>. */
export const parameters: Rule = {
  sentence: 'Every parameter has a value.',
  check({ query, options, report }) {
    const given = options.parameters;
    if (!given) return;
    for (const { name, span } of parametersIn(query)) {
      if (Object.hasOwn(given, name)) continue;
      report('parameter-missing', span, `The parameter $${name} has no value.`, {
        near: nearNames(name, Object.keys(given)),
      });
    }
  },
};

function* parametersIn(root: Syntax): Generator<Parameter> {
  const open: Syntax[] = [root];
  for (let node = open.pop(); node; node = open.pop()) {
    if (node.kind === 'parameter') yield node;
    open.push(...[...children(node)].reverse());
  }
}

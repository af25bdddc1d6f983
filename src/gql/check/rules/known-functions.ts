import { nearNames } from '../../../text/near.ts';
import { arity, signature } from '../../expression/functions/define.ts';
import type { Call } from '../../language/ast.ts';
import { AGGREGATE_NAMES } from '../../language/builtin-names.ts';
import { insteadOfFunction } from '../../language/older-functions.ts';
import { expressionsIn } from '../analysis.ts';
import type { CheckContext, Rule } from '../rule.ts';

/** Clause 20, formats of the functions. */
export const knownFunctions: Rule = {
  sentence: 'Every function that is called exists and gets as many arguments as it takes.',
  check(context) {
    for (const site of context.analysis.sites) {
      for (const node of expressionsIn(site.root)) if (node.kind === 'call') call(node, context);
    }
  },
};

function call({ name, nameSpan, span, arguments: given }: Call, { options, report }: CheckContext): void {
  const definition = options.functions.get(name);
  if (!definition) {
    const instead = insteadOfFunction(name);
    if (instead) {
      report('unknown-function', nameSpan, `There is no function ${name}(); ${instead}.`);
      return;
    }
    const near = nearNames(name, [...options.functions.keys(), ...AGGREGATE_NAMES]);
    report('unknown-function', nameSpan, `There is no function ${name}.`, { near });
    return;
  }
  const { least, most } = arity(definition);
  if (given.length >= least && given.length <= most) return;
  const count =
    least === most
      ? `${least}`
      : most === Number.POSITIVE_INFINITY
        ? `at least ${least}`
        : `${least} to ${most}`;
  report(
    'argument-count',
    span,
    `${signature(definition)} takes ${count} argument${count === '1' ? '' : 's'}, not ${given.length}.`,
  );
}

import { printExpression } from '../../language/print.ts';
import type { Rule } from '../rule.ts';

/** 14.11 <return statement>, syntax rules: names of columns differ. */
export const returnItems: Rule = {
  sentence: 'RETURN gives every column a name of its own, and * needs at least one variable.',
  ofEach: true,
  check({ query, analysis, report }) {
    const { items, span } = query.result;
    if (!items) {
      if (analysis.variables.size === 0) {
        report('return-items', span, 'RETURN * has nothing to return: no pattern declares a variable.');
      }
      return;
    }
    const seen = new Set<string>();
    for (const item of items) {
      const name = item.alias?.text ?? printExpression(item.value);
      if (seen.has(name))
        report('return-items', item.span, `Two columns have the name "${name}"; rename one with AS.`);
      seen.add(name);
    }
  },
};

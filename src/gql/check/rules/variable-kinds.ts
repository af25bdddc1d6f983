import type { Declaration, VariableKind } from '../analysis.ts';
import type { Rule } from '../rule.ts';

const WORDS: Readonly<Record<VariableKind, string>> = {
  node: 'a node',
  edge: 'an edge',
  path: 'a path',
  value: 'a value',
};

/** 16.5 and 16.7, syntax rules on <element variable> and <path variable> declarations. */
export const variableKinds: Rule = {
  sentence: 'A variable names nodes, edges or paths, always the same kind.',
  check({ analysis, report }) {
    const first = new Map<string, Declaration>();
    for (const declaration of analysis.declarations) {
      const { name, kind, span, before, clause } = declaration;
      const key = `${clause.span.start} ${name}`;
      const known = before?.kind ?? first.get(key)?.kind;
      if (!first.has(key)) first.set(key, declaration);
      if (known === undefined || known === kind) continue;
      report(
        'variable-kind',
        span,
        `"${name}" is ${WORDS[known]} already and cannot be ${WORDS[kind]} here; take another name.`,
      );
    }
  },
};

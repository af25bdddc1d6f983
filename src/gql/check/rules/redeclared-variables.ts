import type { Declaration } from '../analysis.ts';
import type { Rule } from '../rule.ts';

/**
 * 16.4 and 16.7, syntax rules on equijoins: a name declared twice joins two patterns, which takes one element on
 * either side. Only unconditional singletons do; path variables never do.
 */
export const redeclaredVariables: Rule = {
  sentence: 'Two patterns may share a name only where both surely bind it to one node or edge.',
  check({ analysis, report }) {
    for (const { name, before } of analysis.values)
      if (before)
        report(
          'variable-redeclared',
          name.span,
          `"${name.text}" has a meaning already; take another name for the value.`,
        );
    const first = new Map<string, Declaration>();
    for (const declaration of analysis.declarations) {
      const { name, kind, span, before, clause, degree } = declaration;
      // Inside one quantified or questioned path the two are single for each other.
      const key = `${clause.span.start} ${name}`;
      const twin = first.get(key);
      if (!twin) first.set(key, declaration);
      if (!before && !twin) continue;
      if ((before?.kind ?? twin!.kind) !== kind) continue;
      if (kind === 'path') {
        report('variable-redeclared', span, `"${name}" names a path already; take another name.`);
        continue;
      }
      if (!before && twin && areAlternatives(declaration, twin)) {
        if (sameSurroundings(declaration, twin)) continue;
        report(
          'variable-redeclared',
          span,
          `"${name}" is declared in another branch, but not in the same way (behind a quantifier, for one); take another name.`,
        );
        continue;
      }
      const together = !before && twin !== undefined && sameSurroundings(declaration, twin);
      const other = before?.degree ?? twin!.degree;
      if (!together && (degree !== 'single' || other !== 'single')) {
        const why =
          degree === 'group' || other === 'group'
            ? 'one of the two is inside a quantified path, where it is bound many times'
            : 'one of the two is inside a part that may be left out (by ?, or as a branch that is not taken)';
        report(
          'variable-redeclared',
          span,
          `"${name}" cannot be shared here: ${why}. Take another name and compare with SAME(…).`,
        );
        continue;
      }
      if (kind === 'edge' && twin && clause.mode !== 'REPEATABLE ELEMENTS') {
        report(
          'variable-redeclared',
          span,
          `The edge "${name}" occurs twice in one MATCH, which finds different edges only; leave it out once, or write MATCH REPEATABLE ELEMENTS.`,
        );
      }
    }
  },
};

/** Whether they stand in different branches of one alternation, so that never both are bound. */
function areAlternatives(a: Declaration, b: Declaration): boolean {
  return a.branches.some((one) =>
    b.branches.some(({ of, branch }) => of === one.of && branch !== one.branch),
  );
}

/** Branches may be different ones of one alternation. */
function sameSurroundings(a: Declaration, b: Declaration): boolean {
  const inOne = (x: Declaration['around'][number], y: Declaration['around'][number] | undefined) =>
    x === y || (x.kind === 'path-term' && y?.kind === 'path-term' && areAlternatives(a, b));
  return a.around.length === b.around.length && a.around.every((path, i) => inOne(path, b.around[i]));
}

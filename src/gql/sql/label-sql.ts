/** Label expressions as SQL, and what can be said of them without asking. */

import type { LabelExpression } from '../language/ast.ts';
import { textLiteral } from './dialect.ts';

/** Whether an edge's label satisfies a label expression. */
export function edgeLabels(label: string, labels: LabelExpression): string {
  switch (labels.kind) {
    case 'label-name':
      return `(${label} IS NOT DISTINCT FROM ${textLiteral(labels.name)})`;
    case 'label-wildcard':
      return `(${label} IS NOT NULL)`;
    case 'label-negation':
      return `NOT ${edgeLabels(label, labels.operand)}`;
    case 'label-conjunction':
    case 'label-disjunction': {
      const word = labels.kind === 'label-conjunction' ? ' AND ' : ' OR ';
      return `(${labels.operands.map((one) => edgeLabels(label, one)).join(word)})`;
    }
    default:
      return labels satisfies never;
  }
}

/** Whether only nodes that are there can pass a label test. */
export function impliesNode(labels: LabelExpression): boolean {
  switch (labels.kind) {
    case 'label-name':
    case 'label-wildcard':
      return true;
    case 'label-conjunction':
      return labels.operands.some(impliesNode);
    case 'label-disjunction':
      return labels.operands.every(impliesNode);
    default:
      return false;
  }
}

/** A test that stands by itself, where unknown is as good as false, in the form that an index serves. */
export function topEdgeLabels(label: string, labels: LabelExpression): string {
  const names = namesOfLabels(labels);
  if (!names) return edgeLabels(label, labels);
  const texts = names.map(textLiteral);
  return texts.length === 1 ? `${label} = ${texts[0]}` : `${label} IN (${texts.join(', ')})`;
}

/** The labels of which an edge must have one, when the expression says just that. */
export function namesOfLabels(labels: LabelExpression | undefined): readonly string[] | undefined {
  if (labels?.kind === 'label-name') return [labels.name];
  if (labels?.kind !== 'label-disjunction') return undefined;
  const names = labels.operands.map(namesOfLabels);
  return names.every((one) => one !== undefined) ? names.flat() : undefined;
}

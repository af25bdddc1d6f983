import type { Rule } from './rule.ts';
import { aggregates } from './rules/aggregates.ts';
import { declaredVariables } from './rules/declared-variables.ts';
import { elementReferences } from './rules/element-references.ts';
import { groupReferences } from './rules/group-references.ts';
import { grouping } from './rules/grouping.ts';
import { iterationConditions } from './rules/iteration-conditions.ts';
import { knownFunctions } from './rules/known-functions.ts';
import { knownNames } from './rules/known-names.ts';
import { nullComparisons } from './rules/null-comparisons.ts';
import { page } from './rules/page.ts';
import { parameters } from './rules/parameters.ts';
import { quantifiers } from './rules/quantifiers.ts';
import { redeclaredVariables } from './rules/redeclared-variables.ts';
import { returnItems } from './rules/return-items.ts';
import { searchedPaths } from './rules/searched-paths.ts';
import { sizes } from './rules/sizes.ts';
import { sortKeys } from './rules/sort-keys.ts';
import { tables } from './rules/tables.ts';
import { types } from './rules/types.ts';
import { variableKinds } from './rules/variable-kinds.ts';

/**
 * All rules, in order of priority when several find something at the same place: first what a name is, then
 * how it is used, then types, then what is only a hint.
 */
export const RULES: readonly Rule[] = Object.freeze([
  sizes,
  variableKinds,
  redeclaredVariables,
  quantifiers,
  searchedPaths,
  iterationConditions,
  declaredVariables,
  groupReferences,
  elementReferences,
  knownNames,
  knownFunctions,
  parameters,
  aggregates,
  returnItems,
  tables,
  grouping,
  sortKeys,
  page,
  types,
  nullComparisons,
]);

import type { z } from 'zod';
import type { Problem } from '../model/problems.ts';
import { didYouMean, nearNames } from '../text/near.ts';
import { type Path, pathText } from './document/document.ts';
import { explainValue, placeholder } from './explain.ts';
import { definitionOf, fieldsOf, required, type Schema, schemaAt, writtenForms } from './schema-walk.ts';
import type { Tree } from './tree.ts';

type Issue = z.core.$ZodIssue;

interface Context {
  readonly tree: Tree;
  readonly value: unknown;
  readonly schema: Schema;
  readonly file: string;
}

/** What a schema found wrong with a file, as problems with their place and the fix, in the order of the file. */
export function problemsOf(
  issues: readonly Issue[],
  value: unknown,
  schema: Schema,
  tree: Tree,
  file: string,
): readonly Problem[] {
  const context = { tree, value, schema, file };
  return issues.flatMap((issue) => explain(issue, [], context, issues));
}

function explain(issue: Issue, above: Path, context: Context, beside: readonly Issue[]): readonly Problem[] {
  const path = [...above, ...issue.path];
  const found = valueAt(context.value, path);
  const schema = schemaAt(context.schema, path) ?? context.schema;
  const field = path.at(-1);
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => unknownField(key, path, schema, context));
  }
  if (issue.code === 'invalid_union') {
    const meant = branchMeant(issue.errors, found, schema);
    if (meant) return meant.flatMap((inner) => explain(inner, path, context, meant));
  }
  const place = { file: context.file, ...context.tree.locate(path), path: pathText(path) };
  if (found === undefined && typeof field === 'string') {
    // A mistyped field is one mistake, not two.
    if (mistyped(field, issue.path, beside)) return [];
    return [{ ...place, what: `"${field}" is missing`, fix: `add it: ${placeholder(schema)}` }];
  }
  return [{ ...place, ...explainValue(issue, found, schema, field) }];
}

/** What a schema refuses, as deep as it can be told: the paths of the values, or of the groups with keys that are no fields. */
export function deepIssues(
  issues: readonly Issue[],
  value: unknown,
  schema: Schema,
  above: Path = [],
): readonly { readonly path: Path; readonly keys?: readonly string[] }[] {
  return issues.flatMap((issue) => {
    const path = [...above, ...issue.path];
    if (issue.code === 'unrecognized_keys') return [{ path, keys: issue.keys }];
    if (issue.code !== 'invalid_union') return [{ path }];
    const meant = branchMeant(issue.errors, valueAt(value, path), schemaAt(schema, path) ?? schema);
    return meant ? deepIssues(meant, value, schema, path) : [{ path }];
  });
}

function unknownField(key: string, path: Path, schema: Schema, context: Context): Problem {
  const fields = [...fieldsOf(schema).keys()];
  return {
    file: context.file,
    ...context.tree.locateKey(path, key),
    path: pathText([...path, key]),
    what: `"${key}" is not a field here`,
    // `{ x: 5,2 }` is x: 5 and a field called 2.
    fix: /^\d+$/u.test(key)
      ? 'write decimals with a point, such as 5.2'
      : (didYouMean(key, fields) ?? `the fields are ${fields.join(', ')}`),
  };
}

function mistyped(field: string, path: Path, beside: readonly Issue[]): boolean {
  return beside.some(
    (other) =>
      other.code === 'unrecognized_keys' &&
      other.path.length === path.length - 1 &&
      other.path.every((step, i) => step === path[i]) &&
      other.keys.some((key) => nearNames(key, [field]).length > 0),
  );
}

/**
 * Of the branches of a union, the one that the writer meant: the only one for that kind of value, or the one with
 * most fields in common. None when no branch takes such a value, or the value is missing.
 */
function branchMeant(
  branches: readonly (readonly Issue[])[],
  found: unknown,
  schema: Schema,
): readonly Issue[] | undefined {
  if (found === undefined) return undefined;
  const fitting = branches
    .map((issues, i) => ({ issues, form: optionsOf(schema)[i] }))
    .filter(({ issues }) => !issues.some(({ code, path }) => path.length === 0 && code === 'invalid_type'));
  if (fitting.length <= 1 || typeof found !== 'object' || found === null) return fitting[0]?.issues;
  const shared = (form: Schema | undefined) =>
    form ? Object.keys(found).filter((key) => fieldsOf(form).has(key)).length : 0;
  return fitting.sort((a, b) => shared(b.form) - shared(a.form) || a.issues.length - b.issues.length)[0]
    .issues;
}

function optionsOf(schema: Schema): readonly Schema[] {
  const def = definitionOf(required(schema));
  if (def.type === 'pipe') return optionsOf(def.in);
  return def.type === 'union' ? def.options : writtenForms(schema);
}

function valueAt(value: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (at, step) =>
      typeof at === 'object' && at !== null && Object.hasOwn(at, step)
        ? (at as Record<PropertyKey, unknown>)[step]
        : undefined,
    value,
  );
}

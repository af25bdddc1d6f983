import type { z } from 'zod';
import type { Problem } from '../model/problems.ts';
import { didYouMean } from '../text/near.ts';
import type { Path, Tree } from './tree.ts';

type Issue = z.core.$ZodIssue;

/** `components[3].at.x` */
export function pathText(path: Path): string {
  return path
    .map((step, i) => (typeof step === 'number' ? `[${step}]` : `${i > 0 ? '.' : ''}${String(step)}`))
    .join('');
}

/**
 * What a schema found wrong, as problems with their place in the file and the mend.
 * @param fieldsAt names of the fields that the schema has at a path, for near names
 */
export function problemsOf(
  issues: readonly Issue[],
  tree: Tree,
  file: string,
  fieldsAt: (path: Path) => readonly string[],
): readonly Problem[] {
  return issues.flatMap((issue) => explain(issue, [], tree, file, fieldsAt));
}

function explain(
  issue: Issue,
  above: Path,
  tree: Tree,
  file: string,
  fieldsAt: (path: Path) => readonly string[],
): readonly Problem[] {
  const path = [...above, ...issue.path];
  const place = { file, ...tree.locate(path), path: pathText(path) };
  const found = valueAt(tree.value, path);
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => ({
        file,
        ...tree.locateKey(path, key),
        path: pathText([...path, key]),
        what: `"${key}" is no field here`,
        mend: didYouMean(key, fieldsAt(path)) ?? `the fields are ${fieldsAt(path).join(', ')}`,
      }));
    case 'invalid_union':
      return nearestBranch(issue.errors, found).flatMap((inner) =>
        explain(inner, path, tree, file, fieldsAt),
      );
    case 'invalid_type':
      if (found === undefined) {
        const field = String(path.at(-1));
        return [
          { ...place, what: `"${field}" is missing`, mend: `add ${field}: ${inWords(issue.expected)}` },
        ];
      }
      return [
        { ...place, what: `${shown(found)} is ${kindOf(found)}`, mend: `write ${inWords(issue.expected)}` },
      ];
    case 'invalid_value': {
      const allowed = issue.values.map(String);
      return [
        {
          ...place,
          what:
            found === undefined
              ? `"${String(path.at(-1))}" is missing`
              : `${shown(found)} is not allowed here`,
          mend: (typeof found === 'string' && didYouMean(found, allowed)) || `write ${listed(allowed)}`,
        },
      ];
    }
    case 'too_small':
      return [
        {
          ...place,
          what: `${shown(found)}${outOf(issue.message)}`,
          mend: `write ${issue.inclusive ? 'at least' : 'more than'} ${issue.minimum}${issue.origin === 'array' ? ' entries' : ''}`,
        },
      ];
    case 'too_big':
      return [
        {
          ...place,
          what: `${shown(found)}${outOf(issue.message)}`,
          mend: `write ${issue.inclusive ? 'at most' : 'less than'} ${issue.maximum}${issue.origin === 'array' ? ' entries' : ''}`,
        },
      ];
    default:
      return [{ ...place, what: `${shown(found)} ${issue.message}` }];
  }
}

/** Of the branches of a union, the one meant: whose kind of value fits, else the one with fewest issues. */
function nearestBranch(branches: readonly (readonly Issue[])[], found: unknown): readonly Issue[] {
  const misfit = (issues: readonly Issue[]) =>
    issues.some((issue) => issue.path.length === 0 && issue.code === 'invalid_type') && found !== undefined;
  // A branch that misses fields at its own top is likelier not the one meant.
  const cost = (issues: readonly Issue[]) => (misfit(issues) ? 1000 : 0) + issues.length;
  return [...branches].sort((a, b) => cost(a) - cost(b))[0];
}

function valueAt(value: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (at, step) =>
      typeof at === 'object' && at !== null ? (at as Record<PropertyKey, unknown>)[step] : undefined,
    value,
  );
}

/** The schema's own words where it has some; the library's say nothing that the mend does not. */
function outOf(message: string): string {
  return /^Too (?:small|big)/u.test(message) ? ' is out of range' : `: ${message}`;
}

function kindOf(value: unknown): string {
  if (value === null) return 'nothing';
  if (Array.isArray(value)) return 'a list';
  return (
    { string: 'text', number: 'a number', boolean: 'a flag', object: 'a group of fields' }[
      typeof value as string
    ] ?? typeof value
  );
}

function inWords(expected: string): string {
  const words: Readonly<Record<string, string>> = {
    string: 'text (in quotation marks where it looks like a number)',
    number: 'a number without a unit',
    int: 'a whole number',
    boolean: 'true or false',
    array: 'a list',
    object: 'a group of fields',
    tuple: 'a list of fixed length',
    record: 'a group of fields',
  };
  return words[expected] ?? expected;
}

function listed(values: readonly string[]): string {
  const shownValues = values.slice(0, 12).map((value) => `"${value}"`);
  return values.length > 12
    ? `one of ${shownValues.join(', ')} … (${values.length} in all)`
    : `one of ${shownValues.join(', ')}`;
}

/** A value as the file has it, short enough for a message. */
function shown(value: unknown): string {
  const text = value === undefined ? 'nothing' : JSON.stringify(value);
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}

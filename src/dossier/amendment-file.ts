import { type Amendment, amendmentSchema } from '../model/correction.ts';
import { IDENTIFICATION_STATES, OBSERVATION_KINDS } from '../model/dossier.ts';
import { lastOfId, parseThingId, specimenOfId } from '../model/ids.ts';
import { CasebackError, type Problem } from '../model/problems.ts';
import { didYouMean } from '../text/near.ts';
import type { Path } from './document/document.ts';
import { problemsOf } from './issues.ts';
import { limited } from './limited.ts';
import { readTree } from './tree.ts';

const KEYS = ['identify', 'withdraw', 'observe', 'value'] as const;
type Key = (typeof KEYS)[number];
const SCHEMAS = Object.fromEntries(
  amendmentSchema.options.map((option) => [Object.keys(option.shape)[0], option]),
) as Readonly<Record<Key, (typeof amendmentSchema.options)[number]>>;
const ONE_OF = `write one of the keys ${KEYS.slice(0, -1).join(', ')} and ${KEYS.at(-1)}`;

/**
 * The change that a YAML or JSON text describes: in the archive's own form, or in that of AmendmentInput of the GraphQL schema.
 * @param file name of the file, for messages
 * @throws CasebackError BAD_FILE with every problem: file, line, column, field and fix
 */
export function amendmentIn(text: string, file: string): Amendment {
  const read = readTree(text, file);
  if ('problems' in read) throw refusal(read.problems);
  const { tree } = read;
  const written = tree.value(amendmentSchema);
  if (typeof written !== 'object' || written === null || Array.isArray(written))
    throw refusal([{ file, line: 1, column: 1, what: 'does not describe a change', fix: ONE_OF }]);
  const strange = Object.keys(written).filter((key) => !(KEYS as readonly string[]).includes(key));
  const given = KEYS.filter((key) => key in written);
  const problems: Problem[] = [
    ...tree.problems,
    ...strange.map((key) => ({
      file,
      ...tree.locateKey([], key),
      path: key,
      what: `"${key}" is not a kind of change`,
      fix: didYouMean(key, KEYS) ?? ONE_OF,
    })),
  ];
  if (given.length > 1)
    problems.push({
      file,
      ...tree.locateKey([], given[1]),
      what: `describes ${given.length} changes: ${given.join(', ')}`,
      fix: 'write each into a file of its own',
    });
  if (given.length === 0 && strange.length === 0)
    problems.push({ file, line: 1, column: 1, what: 'does not describe a change', fix: ONE_OF });
  if (given.length !== 1) throw refusal(problems);
  const [key] = given;
  const schema = SCHEMAS[key];
  const { content, inFile } = plain(key, (tree.value(schema) as Record<Key, unknown>)[key]);
  const record = { [key]: content };
  const checked = schema.safeParse(record);
  if (checked.success && problems.length === 0) return checked.data;
  const placed = {
    ...tree,
    locate: (path: Path) => tree.locate(inFile(path)),
    locateKey: (path: Path, name: string) => tree.locateKey(inFile(path), name),
  };
  throw refusal([
    ...problems,
    ...(checked.success ? [] : problemsOf(checked.error.issues, record, schema, placed, file)),
  ]);
}

interface Plain {
  readonly content: unknown;
  /** Path in the file of a path in the content. */
  readonly inFile: (path: Path) => Path;
}

/** A change in the archive's own form. */
function plain(key: Key, written: unknown): Plain {
  const asWritten = (path: Path) => path;
  if (key === 'withdraw' && typeof written === 'string')
    return { content: { observation: written }, inFile: () => [key] };
  if (typeof written !== 'object' || written === null) return { content: written, inFile: asWritten };
  const fields = written as Readonly<Record<string, unknown>>;
  switch (key) {
    case 'identify': {
      const { component } = fields;
      const word = { ...fields, ...wordOf(fields, 'state', IDENTIFICATION_STATES) };
      if (fields.specimen !== undefined || typeof component !== 'string' || !parseThingId(component))
        return { content: word, inFile: asWritten };
      return {
        content: { ...word, specimen: specimenOfId(component), component: lastOfId(component) },
        inFile: asWritten,
      };
    }
    case 'observe': {
      const { observation, ...rest } = fields;
      if (typeof observation !== 'object' || observation === null)
        return { content: { ...fields, ...wordOf(fields, 'kind', OBSERVATION_KINDS) }, inFile: asWritten };
      const inner = observation as Readonly<Record<string, unknown>>;
      return {
        content: { ...inner, ...wordOf(inner, 'kind', OBSERVATION_KINDS), ...rest },
        inFile: ([first, ...more]) =>
          more[0] === 'specimen' ? [first, ...more] : [first, 'observation', ...more],
      };
    }
    case 'value': {
      const { text, number, quantity, flag, list, ...rest } = fields;
      const [is] = [text, number, quantity, flag, list].filter((one) => one !== undefined && one !== null);
      return { content: is === undefined || 'is' in rest ? fields : { ...rest, is }, inFile: asWritten };
    }
    case 'withdraw':
      return { content: fields, inFile: asWritten };
    default:
      return key satisfies never;
  }
}

/** A word of the archive where the name that GraphQL has for it is written: `body-size` for `BODY_SIZE`. */
function wordOf(
  fields: Readonly<Record<string, unknown>>,
  field: string,
  words: readonly string[],
): Readonly<Record<string, unknown>> {
  const written = fields[field];
  if (typeof written !== 'string') return {};
  const word = written.toLowerCase().replaceAll('_', '-');
  return /^[A-Z_]+$/u.test(written) && words.includes(word) ? { [field]: word } : {};
}

function refusal(problems: readonly Problem[]): CasebackError {
  const count = problems.length === 1 ? 'a problem' : `${problems.length} problems`;
  return new CasebackError('BAD_FILE', `the change has ${count}; nothing was written`, limited(problems));
}

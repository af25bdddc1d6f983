import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { type Amendment, amendmentSchema } from '../model/correction.ts';
import { parseMemberId, parseThingId, specimenOfId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import { parseQuantity, QuantityError } from '../model/quantity.ts';
import { textOf, UsageError, type Values } from './command.ts';

export const AMENDMENT_OPTION = { file: { type: 'string' } } as const;
export const AMENDMENT_HELP = `The change is one of
  identify COMPONENT PART=PROBABILITY ...   another identification, such as tarn-loop-3/a/U2 quillon/QN4416=0.9;
                    a term of the taxonomy stands for a kind: Accelerometer=0.8
  withdraw OBSERVATION                      an observation taken back
  value ID FIELD VALUE                      a value of a part, component or device put right, such as
                    quillon/QN4410 parameters.activeCurrent "180 uA"; "-" takes the field away
or stands in a YAML or JSON file (--file), with one of the keys identify, withdraw, observe and value.`;

/**
 * The change that a command line or a file asks for.
 * @throws UsageError for words that make none; CasebackError BAD_FILE or BAD_INPUT for one that may not stand
 */
export function amendmentOf([kind, ...words]: readonly string[], values: Values): Amendment {
  const file = textOf(values, 'file');
  if (file !== undefined) {
    if (kind !== undefined) throw new UsageError('give the change as words or as a file, not both');
    return checked(fileContent(file));
  }
  switch (kind) {
    case 'identify':
      return checked({ identify: identification(words) });
    case 'withdraw':
      return checked({ withdraw: { observation: only(words, 1, 'withdraw OBSERVATION')[0] } });
    case 'value': {
      const [of, field, is] = only(words, 3, 'value ID FIELD VALUE');
      return checked({ value: { of, field, is: valueIn(is) } });
    }
    case undefined:
      throw new UsageError('say what to change: identify, withdraw or value, or --file');
    default:
      throw new UsageError(`"${kind}" is no change; the changes are identify, withdraw and value`);
  }
}

function fileContent(file: string): unknown {
  try {
    return parse(readFileSync(file === '-' ? 0 : file, 'utf8'));
  } catch (error) {
    throw new CasebackError('BAD_FILE', `${file}: ${error instanceof Error ? error.message : String(error)}`);
  }
}

function checked(written: unknown): Amendment {
  const read = amendmentSchema.safeParse(written);
  if (read.success) return read.data;
  const issues = read.error.issues.flatMap((issue) =>
    issue.code === 'invalid_union' ? closest(issue.errors) : [issue],
  );
  const problems = issues.map(({ path, message }) => ({ path: path.join('.'), what: message }));
  throw new CasebackError('BAD_INPUT', `the change may not stand: ${problems[0].what}`, problems);
}

/** Of several forms that a change may have, the one that it misses by least. */
function closest<I extends { readonly path: readonly PropertyKey[] }>(
  forms: readonly (readonly I[])[],
): readonly I[] {
  const depth = (issues: readonly I[]) => Math.max(...issues.map(({ path }) => path.length));
  return forms.reduce((best, next) => (depth(next) > depth(best) ? next : best));
}

function only(words: readonly string[], count: number, usage: string): readonly string[] {
  if (words.length !== count) throw new UsageError(`write ${usage}`);
  return words;
}

function identification([component = '', ...candidates]: readonly string[]): object {
  const thing = parseThingId(component);
  if (!thing || candidates.length === 0)
    throw new UsageError('write identify COMPONENT PART=PROBABILITY ...');
  return {
    specimen: specimenOfId(component),
    component: thing.local,
    candidates: candidates.map((written) => {
      const [what, probability] = written.split('=');
      if (!what || probability === undefined || !Number.isFinite(Number(probability)))
        throw new UsageError(`"${written}" is no candidate; write it as quillon/QN4416=0.9`);
      return { [parseMemberId(what) ? 'part' : 'category']: what, probability: Number(probability) };
    }),
  };
}

/** A number, an amount with its unit, or the text as it stands. */
function valueIn(text: string): unknown {
  if (text === '-') return null;
  if (text.trim() !== '' && Number.isFinite(Number(text))) return Number(text);
  try {
    return parseQuantity(text);
  } catch (error) {
    if (error instanceof QuantityError) return text;
    throw error;
  }
}

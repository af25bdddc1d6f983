import { parse, YAMLParseError } from 'yaml';
import { amendmentIn } from '../../dossier/amendment-file.ts';
import { type Amendment, amendmentSchema } from '../../model/correction.ts';
import { parseMemberId, parseThingId, specimenOfId } from '../../model/ids.ts';
import { didYouMean } from '../../text/near.ts';
import type { Argument } from '../frame/command.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { readText } from '../frame/files.ts';
import { pointFor, text } from '../frame/options.ts';
import type { Terminal } from '../frame/terminal.ts';
import { checkedRecord } from './record.ts';

const KINDS = ['identify', 'withdraw', 'value'] as const;

export const CHANGE_ARGUMENT: Argument = { name: 'CHANGE', optional: true, many: true };
export const CHANGE_OPTION = { file: text('FILE', 'the change from a file; - for standard input') };
export const CHANGE_HELP = `The change is one of
  identify COMPONENT PART=PROBABILITY ...   another identification, such as tarn-sennit-3/a/U2 quistle/QWR4T16=0.9;
                    a term of the taxonomy stands for a kind: Accelerometer=0.8
  withdraw OBSERVATION                      an observation withdrawn
  value ID FIELD VALUE                      a value of a part, component, net or device corrected, such as
                    quistle/QWR4T10 parameters.activeCurrent "180 uA"; "-" takes the field away; a list
                    stands in brackets, such as tarn-sennit-3/a/sda pins "[U1.4, U2.SDA]"
or is in a YAML or JSON file (--file) with one of the keys identify, withdraw, observe and value, such as
  identify: { component: tarn-sennit-3/a/U3, candidates: [{ part: quistle/QWR4T16, probability: 0.9 }], basis: [o2] }
  withdraw: tarn-sennit-3/a/o2
  observe: { specimen: tarn-sennit-3/a, id: look-again, kind: marking, about: [U3], marking: "220[8B]" }
  value: { of: tarn-sennit-3/a/U3, field: body.length, is: 2.5 }
AmendmentInput of the GraphQL schema, as JSON, is understood too.`;

/**
 * The change that a command line or a file asks for.
 * @throws UsageError for arguments that make none; CasebackError BAD_FILE or BAD_INPUT for one that is not valid
 */
export function changeFrom(
  [kind, ...rest]: readonly string[],
  file: string | undefined,
  terminal: Terminal,
): Amendment {
  if (file !== undefined) {
    if (kind !== undefined) throw new UsageError('give the change as arguments or as a file, not both');
    return amendmentIn(readText(file, terminal), file === '-' ? 'standard input' : file);
  }
  return checkedRecord(amendmentSchema, 'change', writtenChange(kind, rest));
}

function writtenChange(kind: string | undefined, rest: readonly string[]): object {
  switch (kind) {
    case 'identify':
      return { identify: identification(rest) };
    case 'withdraw':
      return { withdraw: { observation: only(rest, 1, 'withdraw OBSERVATION')[0] } };
    case 'value': {
      const [of, field, is] = only(rest, 3, 'value ID FIELD VALUE');
      return { value: { of, field, is: valueIn(is) } };
    }
    case undefined:
      throw new UsageError('CHANGE is missing; say what to change: identify, withdraw or value, or --file');
    default: {
      const fix = didYouMean(kind, KINDS) ?? `the changes are ${KINDS.join(', ')}`;
      throw new UsageError(`${quoted(kind)} is not a valid change; ${fix}`);
    }
  }
}

function only(written: readonly string[], count: number, usage: string): readonly string[] {
  if (written.length !== count) throw new UsageError(`write ${usage}`);
  return written;
}

function identification([component = '', ...candidates]: readonly string[]): object {
  const thing = parseThingId(component);
  if (!thing || candidates.length === 0)
    throw new UsageError('write identify COMPONENT PART=PROBABILITY ...');
  return {
    specimen: specimenOfId(component),
    component: thing.local,
    candidates: candidatesIn(candidates),
  };
}

/**
 * Candidates of an identification, each a part or a term of the taxonomy with its probability, `quistle/QWR4T16=0.9`.
 * @throws UsageError for any other text
 */
export function candidatesIn(written: readonly string[]): readonly object[] {
  return written.map((one) => {
    const [what, probability] = one.split('=');
    if (!what || !probability || !Number.isFinite(Number(probability)))
      throw new UsageError(
        `${quoted(one)} is not a valid candidate; ${pointFor(probability ?? '') ?? 'write it as quistle/QWR4T16=0.9 or Regulator=0.9'}`,
      );
    return { [parseMemberId(what) ? 'part' : 'category']: what, probability: Number(probability) };
  });
}

/** A number, yes or no, a list or group in brackets, or the text as it is: an amount with its unit is text in files too. */
function valueIn(written: string): unknown {
  if (written === '-') return null;
  if (written.trim() !== '' && Number.isFinite(Number(written))) return Number(written);
  if (written === 'true' || written === 'false') return written === 'true';
  if (!/^[[{]/u.test(written)) return written;
  try {
    return parse(written);
  } catch (error) {
    if (!(error instanceof YAMLParseError)) throw error;
    throw new UsageError(`${quoted(written)} is not a valid list or group; write it as [U1.4, U2.SDA]`);
  }
}

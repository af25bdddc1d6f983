import type { z } from 'zod';
import { type Catalogue, deviceRecordSchema, partSchema } from '../model/catalogue.ts';
import type { Amendment } from '../model/correction.ts';
import { type Dossier, dossierSchema } from '../model/dossier.ts';
import type { Authorship, Change } from '../model/entry.ts';
import { componentMeant, parseThingId, specimenOfId } from '../model/ids.ts';
import { CasebackError, formatProblem, type Problem } from '../model/problems.ts';
import { oneLine } from '../text/plain-text.ts';
import { checkAddition, withRecordedComponents } from './additions.ts';
import type { HeldDossiers } from './check/context.ts';
import type { ReadDocument } from './document/document.ts';
import { same } from './document/same.ts';
import { planImport } from './plan.ts';
import { recordProblems } from './record-problems.ts';
import { schemaAt, wantsText } from './schema-walk.ts';

/**
 * The journal's changes that make an amendment, checked by the rules that files obey.
 * @throws CasebackError NOT_FOUND for an unknown id, BAD_INPUT for an invalid value, CONFLICT for one that contradicts
 * what was recorded
 */
export function amend(amendment: Amendment, held: HeldDossiers, by: Authorship): readonly Change[] {
  if ('value' in amendment) return correctedValue(amendment.value, held, by);
  const [specimen, asked] = additionOf(amendment, by);
  const dossier = held.dossierNow(specimen);
  if (!dossier) throw new CasebackError('NOT_FOUND', `No specimen "${specimen}" is in the archive`);
  const change = withRecordedComponents(dossier, asked);
  checkAddition(dossier, change, held);
  return [change];
}

function additionOf(
  amendment: Exclude<Amendment, { value: unknown }>,
  by: Authorship,
): readonly [specimen: string, change: Parameters<typeof checkAddition>[1]] {
  if ('identify' in amendment) {
    const { specimen, ...identification } = amendment.identify;
    return [specimen, { ...by, kind: 'identification-set', payload: { specimen, identification } }];
  }
  if ('observe' in amendment) {
    const { specimen, ...observation } = amendment.observe;
    return [specimen, { ...by, kind: 'observation-recorded', payload: { specimen, observation } }];
  }
  const id = amendment.withdraw.observation;
  const thing = parseThingId(id);
  if (!thing)
    throw new CasebackError(
      'NOT_FOUND',
      `No observation "${id}" is in the archive; ids look like "tarn-sennit-3/a/o2"`,
    );
  const specimen = specimenOfId(id);
  const payload = { specimen, observation: thing.local };
  return [specimen, { ...by, kind: 'observation-withdrawn', payload }];
}

/** No field of a record lies deeper or is called longer; a path goes down one call a step. */
const LONGEST_PATH = { characters: 300, steps: 20 };

type Value = Extract<Amendment, { value: unknown }>['value'];

function correctedValue({ of, field, is }: Value, held: HeldDossiers, by: Authorship): readonly Change[] {
  if (field.length > LONGEST_PATH.characters) throw noField(field);
  const steps = field.split('.');
  if (steps.length > LONGEST_PATH.steps) throw noField(field);
  if (steps.some((step) => ['', 'id', '__proto__'].includes(step))) throw noField(field);
  const part = held.record('parts', of);
  if (part) {
    if (field === 'maker' || field === 'number') throw noField(field);
    return filed(
      catalogueOf(
        { parts: [checked(partSchema, withField(part, field, asText(partSchema, field, is)), field)] },
        of,
      ),
      field,
      held,
      by,
    );
  }
  const device = held.record('devices', of);
  if (device) {
    if (field === 'visibility' || field === 'embargoUntil') throw noField(field);
    const value = asText(deviceRecordSchema, field, is);
    const right = checked(deviceRecordSchema, withField(device, field, value), field);
    return filed(catalogueOf({ devices: [right] }, of), field, held, by);
  }
  const dossier = held.dossierAsFiled(specimenOfId(of));
  const place = dossier && placeIn(dossier, parseThingId(of)?.local);
  if (!dossier || place === undefined)
    throw new CasebackError('NOT_FOUND', `No part, component, net or device "${of}" is in the archive`);
  const path = `${place}.${field}`;
  const changed = checked(dossierSchema, withField(dossier, path, asText(dossierSchema, path, is)), field);
  if (same(changed, dossier)) throw alreadySo(of, field);
  return filed({ kind: 'dossier', file: of, locate: nowhere, dossier: changed }, field, held, by);
}

/** A number or flag where the field asks for text, such as the value 47 of a resistor, is that text, as in files. */
function asText(schema: z.ZodType, field: string, is: unknown): unknown {
  if (typeof is !== 'number' && typeof is !== 'boolean') return is;
  const path = field.split('.').map((step) => (/^\d+$/u.test(step) ? Number(step) : step));
  const at = schemaAt(schema, path);
  return at && wantsText(at) ? String(is) : is;
}

/** Path of a component or net inside its dossier. */
function placeIn(dossier: Dossier, local: string | undefined): string | undefined {
  const meant = local === undefined ? undefined : componentMeant(dossier.components, local);
  const at = meant ? dossier.components.indexOf(meant) : -1;
  if (at >= 0) return `components.${at}`;
  const net = dossier.nets?.findIndex(({ id }) => id === local) ?? -1;
  return net < 0 ? undefined : `nets.${net}`;
}

/** A catalogue file with nothing but a corrected record. */
function catalogueOf(records: Partial<Catalogue>, of: string): ReadDocument {
  const none = {
    makers: [],
    productLines: [],
    devices: [],
    parts: [],
    sources: [],
    publications: [],
    patterns: [],
    feeds: [],
    listMappings: [],
  };
  const catalogue = { caseback: 'catalogue/1' as const, ...none, ...records };
  return { kind: 'catalogue', file: of, locate: nowhere, catalogue };
}

function nowhere() {
  return { line: 1, column: 1 };
}

/** Changes that bring one altered record in, with problems at the field that was to be corrected. */
function filed(document: ReadDocument, field: string, held: HeldDossiers, by: Authorship): readonly Change[] {
  const changes = planned(document, field, held, by);
  if (changes.length === 0) throw alreadySo(document.file, field);
  return changes;
}

function planned(
  document: ReadDocument,
  field: string,
  held: HeldDossiers,
  by: Authorship,
): readonly Change[] {
  try {
    return planImport([document], held, by).changes;
  } catch (error) {
    if (!(error instanceof CasebackError)) throw error;
    const problems = error.problems.map(({ what, fix }): Problem => ({ path: field, what, fix }));
    const code = error.code === 'CONFLICT' ? 'CONFLICT' : 'BAD_INPUT';
    throw new CasebackError(code, problems.map(formatProblem).join('; '), problems);
  }
}

function alreadySo(of: string, field: string): CasebackError {
  return new CasebackError(
    'BAD_INPUT',
    `${field} of ${of} already has this value; there is nothing to correct`,
  );
}

function noField(field: string): CasebackError {
  return new CasebackError(
    'BAD_INPUT',
    `"${oneLine(field, 80)}" is not a field that can be corrected; write it as pins or body.length`,
  );
}

/** A copy of a record with one field set, or removed by null. */
function withField(record: unknown, field: string, value: unknown): unknown {
  const set = (at: unknown, [step, ...rest]: readonly string[]): unknown => {
    const list = Array.isArray(at);
    const inner = (at as Record<string, unknown> | undefined)?.[step];
    const next = rest.length > 0 ? set(inner, rest) : (value ?? undefined);
    if (list) return at.map((one, i) => (String(i) === step ? next : one));
    const object = { ...(at as object | undefined), [step]: next };
    if (next === undefined) delete object[step];
    return object;
  };
  return set(record, field.split('.'));
}

/** The record, when its schema accepts it; problems name the field instead of a place in a file. */
function checked<T>(schema: z.ZodType<T>, record: unknown, field: string): T {
  const read = schema.safeParse(record);
  if (read.success) return read.data;
  const problems = recordProblems(read.error.issues, record, schema, field);
  const own = problems.map((problem) => ({ ...problem, path: field }));
  throw new CasebackError('BAD_INPUT', own.map(formatProblem).join('; '), own);
}

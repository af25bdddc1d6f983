import type { z } from 'zod';
import { termFix } from '../model/near-term.ts';
import { TERMS } from '../model/taxonomy.ts';
import { didYouMean } from '../text/near.ts';
import { definitionOf, isQuantity, required, type Schema, sentenceOf, writtenForms } from './schema-walk.ts';

type Issue = z.core.$ZodIssue;

interface Explained {
  readonly what: string;
  readonly fix: string;
}

/** What is wrong with a value in the file, and the fix. */
export function explainValue(
  issue: Issue,
  found: unknown,
  schema: Schema,
  field: PropertyKey = '',
): Explained {
  if (found === null) {
    return { what: `"${String(field)}" is empty`, fix: 'fill it in, or leave the field out' };
  }
  if (isQuantity(schema)) {
    const explained = explainQuantity(issue, found, schema);
    if (explained) return explained;
  }
  switch (issue.code) {
    case 'invalid_type':
    case 'invalid_union':
      return wrongKind(found, schema, field);
    case 'invalid_value':
      return notAllowed(found, issue.values.map(String), schema);
    case 'too_small':
    case 'too_big':
      return outOfRange(issue, found);
    case 'invalid_format':
      if (issue.format === 'url') {
        const fix = 'write it in full, such as "https://example.org/page"';
        return { what: `${shown(found)} is not a valid web address`, fix };
      }
      return modelMessage(issue.message, found, schema);
    default:
      return modelMessage(issue.message, found, schema);
  }
}

/** What to write for a field that is missing: its own sentence, else its kind. */
export function placeholder(schema: Schema): string {
  return sentenceOf(schema)?.replace(/\.$/u, '') ?? wordsOf(schema) ?? kindsOf(schema);
}

/** `ground, power or signal`, where a field takes a few words. */
function wordsOf(schema: Schema): string | undefined {
  const def = definitionOf(required(schema));
  if (def.type !== 'enum') return undefined;
  const words = Object.values(def.entries).map(String);
  return words.length > 12 ? undefined : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;
}

/** A quantity without unit, with a decimal comma, or of another kind; other mistakes have messages of their own. */
function explainQuantity(issue: Issue, found: unknown, schema: Schema): Explained | undefined {
  const unit = /such as "1 ([^"]+)"/u.exec(sentenceOf(schema) ?? '')?.[1] ?? 'V';
  if (typeof found !== 'string' && typeof found !== 'number') {
    if (issue.code !== 'invalid_type' && issue.code !== 'invalid_union') return undefined;
    return {
      what: `${shown(found)} is not a valid quantity`,
      fix: `write a number with its unit, such as "1 ${unit}"`,
    };
  }
  const text = String(found).trim();
  if (/^[+-]?[\d.]+(?:e[+-]?\d+)?$/iu.test(text)) {
    return { what: `${text} has no unit`, fix: `write it with its unit, such as "${text} ${unit}"` };
  }
  const comma = /^([+-]?\d+),(\d+)(?!\d*,)(.*)$/su.exec(text);
  if (comma) {
    const [, whole, fraction, rest] = comma;
    return { what: `"${text}" has a decimal comma`, fix: `write "${whole}.${fraction}${rest}"` };
  }
  if (!issue.message.startsWith('is in ')) return undefined;
  return {
    what: `"${text}" ${issue.message}`,
    fix: `write it in ${unit}, or in a unit that converts to it`,
  };
}

function wrongKind(found: unknown, schema: Schema, field: PropertyKey): Explained {
  const forms = writtenForms(schema);
  const types = forms.map((form) => definitionOf(form).type);
  const what =
    typeof found === 'object'
      ? `"${String(field)}" is ${kindOf(found)}`
      : `${shown(found)} is ${kindOf(found)}`;
  const number = typeof found === 'string' && types.includes('number') ? numberIn(found) : undefined;
  if (number !== undefined)
    return { what: `${what}, not a number`, fix: `write ${number}, without quotation marks or unit` };
  if (types.includes('array')) {
    const entries = typeof found === 'string' ? `[${found}]` : 'start each entry on a new line with "- "';
    return { what, fix: `write a list: ${entries}` };
  }
  const tuple = forms.map(definitionOf).find(({ type }) => type === 'tuple');
  if (tuple?.type === 'tuple') {
    const like = typeof found === 'string' ? `, such as [${found}]` : '';
    return { what, fix: `write a list of ${tuple.items.length} in brackets${like}` };
  }
  const groups = forms.flatMap((form) => groupOf(form) ?? []);
  if (groups.length > 0) {
    const text = types.some((type) => type === 'string') ? 'text or ' : '';
    return { what, fix: `write ${text}${groups.join(' or ')}` };
  }
  const sentence = sentenceOf(schema);
  return { what, fix: `write ${kindsOf(schema)}${sentence ? ` (${sentence.replace(/\.$/u, '')})` : ''}` };
}

/** A number that somebody wrote as text: with a unit, a percent sign or a decimal comma. */
function numberIn(text: string): number | undefined {
  const match = /^\s*([+-]?\d+(?:[.,]\d+)?)\s*([^\d,.]*)$/u.exec(text);
  if (!match) return undefined;
  const number = Number(match[1].replace(',', '.'));
  return match[2].trim() === '%' ? Number((number / 100).toPrecision(12)) : number;
}

/** `{ x: …, y: … }`: a group with the fields that it must have. */
function groupOf(form: Schema): string | undefined {
  const def = definitionOf(form);
  if (def.type !== 'object') return undefined;
  const must = Object.entries(def.shape).filter(
    ([, schema]) => definitionOf(schema).type !== 'optional' && definitionOf(schema).type !== 'default',
  );
  const named = must.length > 0 ? must : Object.entries(def.shape).slice(0, 2);
  return `a group { ${named.map(([name]) => `${name}: …`).join(', ')} }`;
}

function kindsOf(schema: Schema): string {
  return [...new Set(writtenForms(schema).map((form) => typeText(definitionOf(form).type)))].join(' or ');
}

function notAllowed(found: unknown, allowed: readonly string[], schema: Schema): Explained {
  const text = String(found);
  if (allowed.length === TERMS.length && allowed.every((one, at) => one === TERMS[at])) return noTerm(text);
  const lower = text.toLowerCase();
  const holding = allowed.filter((one) => lower.length > 2 && one.toLowerCase().includes(lower)).slice(0, 3);
  const near = holding.length > 0 ? didYouMean(holding[0], holding) : didYouMean(text, allowed);
  const all =
    allowed.length > 12
      ? `write one of the ${allowed.length}: ${placeholder(schema)}`
      : `write ${allowed.length > 1 ? 'one of ' : ''}${allowed.map((one) => `"${one}"`).join(', ')}`;
  return { what: `${shown(found)} is not allowed here`, fix: near ?? all };
}

/** Not a term of the taxonomy: the term that it is another name of, those near it, or where they are listed. */
function noTerm(text: string): Explained {
  const what = `${shown(text)} is not a term of the component taxonomy`;
  const fix = termFix(text);
  if (fix !== undefined) return { what, fix };
  const listed =
    "caseback ask --query '{ taxonomy { name } }' lists them, and schema/taxonomy.yaml explains them";
  return { what, fix: `write one of the ${TERMS.length} terms; ${listed}` };
}

function outOfRange(issue: Extract<Issue, { code: 'too_small' | 'too_big' }>, found: unknown): Explained {
  const small = issue.code === 'too_small';
  const limit = small ? issue.minimum : issue.maximum;
  if (Array.isArray(found)) {
    const entries =
      found.length === 0 ? 'no entry' : found.length === 1 ? '1 entry' : `${found.length} entries`;
    return { what: `has ${entries}`, fix: `write ${small ? 'at least' : 'at most'} ${limit}` };
  }
  if (!/^Too (?:small|big)/u.test(issue.message)) {
    return found === '' ? emptyText(issue.message) : modelMessage(issue.message, found);
  }
  const bound = issue.inclusive ? (small ? 'at least' : 'at most') : small ? 'more than' : 'less than';
  return { what: `${shown(found)} is too ${small ? 'small' : 'large'}`, fix: `write ${bound} ${limit}` };
}

function emptyText(message: string): Explained {
  return { what: 'is empty', fix: message.replace(/^is empty; /u, '') };
}

/**
 * The model's own message: `is not a valid date; write "2019"` becomes what (with the value in front) and fix. Messages that
 * start with a quoted value already say which.
 */
function modelMessage(message: string, found: unknown, schema?: Schema): Explained {
  const cut = message.indexOf('; ');
  const says = cut === -1 ? message : message.slice(0, cut);
  const fix = cut === -1 ? (schema ? `write ${placeholder(schema)}` : 'fix it') : message.slice(cut + 2);
  if (says.startsWith('"') || (typeof found === 'object' && /^(?:names|has) /u.test(says)))
    return { what: says, fix };
  if (says.startsWith('is ')) return { what: `${shown(found)} ${says}`, fix };
  const slug = message.includes('joined by hyphens') ? hyphened(String(found)) : '';
  return {
    what: `${shown(found)} does not fit here`,
    fix: slug ? `write "${slug}": lower-case words joined by hyphens` : message,
  };
}

/** `Tarn Sennit 3` as an id: `tarn-sennit-3`. */
function hyphened(text: string): string {
  const plain = text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();
  return plain.replace(/[^a-z0-9]+/gu, '-').replace(/^-|-$/gu, '');
}

function kindOf(value: unknown): string {
  if (Array.isArray(value)) return 'a list';
  switch (typeof value) {
    case 'string':
      return 'text';
    case 'number':
      return Number.isFinite(value) ? 'a number' : 'not a finite number';
    case 'boolean':
      return 'a flag';
    default:
      return 'a group of fields';
  }
}

function typeText(type: string): string {
  switch (type) {
    case 'number':
      return 'a number';
    case 'boolean':
      return 'true or false';
    case 'array':
    case 'tuple':
      return 'a list';
    case 'object':
    case 'record':
      return 'a group of fields';
    default:
      return 'text';
  }
}

/** A value as the file has it, short enough for a message. */
function shown(value: unknown): string {
  if (typeof value === 'number') return String(value);
  const text = JSON.stringify(value) ?? 'nothing';
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}

import { Document, isMap, isScalar, isSeq, Scalar, visit, type YAMLMap, type YAMLSeq } from 'yaml';
import { type Catalogue, catalogueSchema } from '../model/catalogue.ts';
import { type Dossier, dossierSchema } from '../model/dossier.ts';
import { withPrintedIds } from './component-ids.ts';
import type { Schema } from './schema-walk.ts';
import { writtenForm } from './written-form.ts';

/** Longest list or group that is put on one line, in characters. */
const LINE = 100;
/** Longest text in a list on one line; sentences get lines of their own. */
const WORDS = 40;

/**
 * A dossier as YAML that an editor can go on writing. Reading it gives the same record, and writing that gives the
 * same text.
 */
export function writeDossier(dossier: Dossier): string {
  return toYaml(dossierSchema, withPrintedIds(dossier));
}

/** A catalogue as YAML, with the same guarantees. */
export function writeCatalogue(catalogue: Catalogue): string {
  return toYaml(catalogueSchema, catalogue);
}

/** A dossier or catalogue as JSON with the same content as the YAML. */
export function writeJson(record: Dossier | Catalogue): string {
  const form =
    record.caseback === 'dossier/1'
      ? writtenForm(dossierSchema, withPrintedIds(record))
      : writtenForm(catalogueSchema, record);
  return `${JSON.stringify(form, null, 2)}\n`;
}

function toYaml(schema: Schema, record: Dossier | Catalogue): string {
  const document = new Document(writtenForm(schema, record), {
    version: '1.2',
    schema: 'core',
    aliasDuplicateObjects: false,
  });
  visit(document, {
    Scalar(key, node) {
      if (typeof node.value !== 'string') return;
      if (key !== 'key') node.type = styleOf(node.value);
      // Fields such as `on` and `y` are left unquoted; they are the schema's own.
      else node.type = PLAIN.test(node.value) ? Scalar.PLAIN : Scalar.QUOTE_DOUBLE;
    },
    // Records, which are entries of the outermost lists, keep a line for each field.
    Map(_, node, path) {
      if (path.length > 4) node.flow = fitsOnOneLine(node);
    },
    Seq(_, node) {
      node.flow = fitsOnOneLine(node) && node.items.every((item) => !isMap(item) && widthOf(item) <= WORDS);
    },
  });
  return document.toString({ lineWidth: 0, flowCollectionPadding: false });
}

/** Letters, digits, blanks, and marks without meaning to YAML in that place. */
const PLAIN = /^[\p{L}\p{N}_][\p{L}\p{M}\p{N} _./+()·°±µΩ%'–-]*(?:[:,;!?=<>*&][\p{L}\p{M}\p{N}_./+()-]+)*$/u;
/** Words that other YAML readers treat as flags or null; Norway's country code is one. */
const FLAG = /^(?:y|n|yes|no|on|off|true|false|null|~)$/iu;
/** A line that can go into a block unchanged: nothing invisible, no blank at its end. */
const VISIBLE = /^(?:[\p{L}\p{M}\p{N}\p{P}\p{S} ]*[\p{L}\p{M}\p{N}\p{P}\p{S}])?$/u;

/** Plain only where nothing could be misread; lines of a marking or a pattern keep their line breaks. */
function styleOf(text: string): Scalar.Type {
  if (PLAIN.test(text) && !text.endsWith(' ') && !FLAG.test(text)) return Scalar.PLAIN;
  const isBlock = /\n[^\n]*\S$/u.test(text) && !/^\s/u.test(text);
  return isBlock && text.split('\n').every((line) => VISIBLE.test(line))
    ? Scalar.BLOCK_LITERAL
    : Scalar.QUOTE_DOUBLE;
}

function fitsOnOneLine(node: YAMLMap | YAMLSeq): boolean {
  return widthOf(node) <= LINE;
}

/** Characters that a node takes on one line; infinite when it holds several lines. */
function widthOf(node: unknown): number {
  if (isScalar(node)) {
    const text = String(node.value);
    return node.type === Scalar.BLOCK_LITERAL || text.includes('\n') ? Infinity : text.length + 2;
  }
  if (isSeq(node)) return node.items.reduce<number>((sum, item) => sum + 2 + widthOf(item), 2);
  if (isMap(node)) {
    return node.items.reduce((sum, { key, value }) => sum + 2 + widthOf(key) + widthOf(value), 2);
  }
  return 4;
}

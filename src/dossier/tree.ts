import {
  isAlias,
  isMap,
  isNode,
  isScalar,
  isSeq,
  Lexer,
  LineCounter,
  type Node,
  parseAllDocuments,
  Scalar,
  type YAMLMap,
} from 'yaml';
import type { Problem } from '../model/problems.ts';
import type { Path, Place } from './document/document.ts';
import { below, type Schema, wantsText } from './schema-walk.ts';
import { errorsToReport, syntaxProblem, TOO_DEEP } from './syntax.ts';

/** A parsed file, with the place of everything in it. */
export interface Tree {
  /** Problems that do not keep the rest from being read, such as a key given twice. */
  readonly problems: readonly Problem[];
  /** The plain data, read as a schema asks. */
  value(schema: Schema): unknown;
  /** A field of the outermost group that holds text, number or flag. */
  scalar(field: string): unknown;
  /** Place of the value at a path, or of the nearest thing around it that exists. */
  locate(path: Path): Place;
  /** Place of a key inside the group at a path. */
  locateKey(path: Path, key: string): Place;
}

const MAX_DEPTH = 40;
/** Words and marks of about 1.6 MB of usual YAML; the parser may take some 700 bytes of memory for each. */
const MAX_TOKENS = 1_000_000;
/** A text shorter than this does no harm, whatever is in it. */
const SMALL = 64 * 1024;

/**
 * Reads YAML 1.2 (core schema: dates and NO stay text, only true and false are flags) or JSON, which is a part of
 * it. Tags, anchors, aliases, merge keys and several documents in one file are refused: JSON has none of them, and
 * aliases may unfold a small file into a huge one.
 */
export function readTree(
  text: string,
  file: string,
): { readonly tree: Tree } | { readonly problems: readonly Problem[] } {
  const weight = text.length > SMALL ? weigh(text) : 'fine';
  if (weight === 'many') {
    const what = `holds more than ${MAX_TOKENS.toLocaleString('en')} words and marks of YAML`;
    return { problems: [{ file, what, fix: 'split it into several files, or write it as JSON' }] };
  }
  if (weight === 'deep') return { problems: [{ file, ...TOO_DEEP }] };
  try {
    return parse(text, file);
  } catch (error) {
    // The parser goes down one call a level; a stack that overflows is its way to say "too deep".
    if (!(error instanceof RangeError)) throw error;
    return { problems: [{ file, ...TOO_DEEP }] };
  }
}

/** Counts the tokens of a text before the parser makes a tree of them. */
function weigh(text: string): 'fine' | 'many' | 'deep' {
  let tokens = 0;
  let brackets = 0;
  let dashes = 0;
  for (const token of new Lexer().lex(text)) {
    if (++tokens > MAX_TOKENS) return 'many';
    if (token === '[' || token === '{') brackets++;
    else if (token === ']' || token === '}') brackets = Math.max(0, brackets - 1);
    else if (token === '-' || token === '?') dashes++;
    else if (token.includes('\n')) dashes = 0;
    if (brackets > MAX_DEPTH || dashes > MAX_DEPTH) return 'deep';
  }
  return 'fine';
}

function parse(
  text: string,
  file: string,
): { readonly tree: Tree } | { readonly problems: readonly Problem[] } {
  const lines = new LineCounter();
  const at = (offset: number): Place => {
    const { line, col } = lines.linePos(Math.min(offset, text.length));
    return { line, column: col };
  };
  const documents = parseAllDocuments(text, {
    version: '1.2',
    schema: 'core',
    merge: false,
    // Looked for below: the library compares every key of a group with every other.
    uniqueKeys: false,
    lineCounter: lines,
    prettyErrors: false,
    keepSourceTokens: false,
  });
  const [document] = documents;
  if (
    !document ||
    document.contents === null ||
    (isScalar(document.contents) &&
      document.contents.value === null &&
      documents.length === 1 &&
      document.errors.length === 0)
  ) {
    const fix = 'start with "caseback: dossier/1" or "caseback: catalogue/1"';
    return { problems: [{ file, what: 'is empty', fix }] };
  }
  const errors = documents.flatMap(({ errors, warnings }) =>
    [...errors, ...warnings].map(({ code, message, pos }) => ({ code, message, ...at(pos[0]) })),
  );
  const syntax = errorsToReport(errors).map(
    ({ code, message, line, column }): Problem => ({ file, line, column, ...syntaxProblem(code, message) }),
  );
  if (documents.length > 1 && syntax.length === 0) {
    syntax.push({
      file,
      ...at(documents[1].range?.[0] ?? 0),
      what: 'holds a second document',
      fix: 'put each dossier into a file of its own',
    });
  }
  if (syntax.length > 0) return { problems: syntax };
  const root = document.contents;
  const { refused, twice } = inspect(root, file, at);
  if (refused.length > 0) return { problems: refused };
  return { tree: treeOf(root, twice, at) };
}

interface Inspected {
  /** Constructs of YAML that a dossier may not use; the rest cannot be trusted. */
  readonly refused: Problem[];
  /** Keys given twice; the rest can be read all the same. */
  readonly twice: Problem[];
}

/** Inspects the parser's tree of a file, once. */
function inspect(root: Node, file: string, at: (offset: number) => Place): Inspected {
  const refused: Problem[] = [];
  const twice: Problem[] = [];
  const refuse = (node: Node, what: string, fix: string) =>
    refused.push({ file, ...at(node.range?.[0] ?? 0), what, fix });

  const look = (node: unknown, depth: number): void => {
    if (isAlias(node)) refuse(node, `uses the alias *${node.source}`, 'write the repeated part out');
    if (!isMap(node) && !isSeq(node) && !isScalar(node)) return;
    if (depth > MAX_DEPTH) {
      if (refused.length === 0) refuse(node, TOO_DEEP.what, TOO_DEEP.fix);
      return;
    }
    if (node.anchor) refuse(node, `sets the anchor &${node.anchor}`, 'leave it out');
    if (node.tag) refuse(node, `carries the tag ${shortTag(node.tag)}`, 'leave it out');
    if (isSeq(node)) for (const item of node.items) look(item, depth + 1);
    if (isMap(node)) lookAtFields(node, depth);
  };

  const lookAtFields = (node: YAMLMap, depth: number): void => {
    const lines = new Map<string, number>();
    for (const { key, value } of node.items) {
      if (isScalar(key)) {
        if (key.value === '<<' && key.type === Scalar.PLAIN)
          refuse(key, 'uses the merge key "<<"', 'write the merged fields out');
        const name = keyText(key);
        const place = at(key.range?.[0] ?? 0);
        const before = lines.get(name);
        if (before === undefined) lines.set(name, place.line);
        else {
          const what = `"${name}" is given twice; first on line ${before}`;
          twice.push({ file, ...place, what, fix: 'keep one of the two' });
        }
      } else if (isNode(key)) {
        refuse(key, 'has a list or group as a key', 'write a field name before the colon');
      }
      look(value, depth + 1);
    }
  };

  look(root, 0);
  return { refused, twice };
}

function shortTag(tag: string): string {
  return tag.replace(/^tag:yaml\.org,2002:/u, '!!');
}

function keyText(key: unknown): string {
  if (!isScalar(key)) return '';
  return typeof key.value === 'string' ? key.value : (key.source ?? String(key.value));
}

function treeOf(root: Node, problems: readonly Problem[], at: (offset: number) => Place): Tree {
  const locate = (path: Path) => at(nodeAt(root, path).range?.[0] ?? 0);
  return {
    problems,
    value: (schema) => plainOf(root, schema),
    scalar: (field) => (isMap(root) ? root.get(field) : undefined),
    locate,
    locateKey(path, key) {
      const node = nodeAt(root, path);
      const pair = isMap(node) ? node.items.find((item) => keyText(item.key) === key) : undefined;
      return isNode(pair?.key) ? at(pair.key.range?.[0] ?? 0) : locate(path);
    },
  };
}

function nodeAt(root: Node, path: Path): Node {
  let node = root;
  for (const step of path) {
    const next = isMap(node)
      ? node.items.findLast((item) => keyText(item.key) === step)?.value
      : isSeq(node) && typeof step === 'number'
        ? node.items[step]
        : undefined;
    if (!isNode(next)) break;
    node = next;
  }
  return node;
}

/**
 * Plain data of a node. Where the schema asks for text, what YAML would read as a number or a flag stays as
 * written, so that the marking 1E30, the revision 1.10 and the year 2019 need no quotation marks.
 */
function plainOf(node: unknown, schema: Schema | undefined): unknown {
  if (isMap(node)) {
    const entries = node.items.map(({ key, value }) => {
      const name = keyText(key);
      return [name, plainOf(value, schema && below(schema, name))] as const;
    });
    return Object.fromEntries(entries);
  }
  if (isSeq(node)) return node.items.map((item, index) => plainOf(item, schema && below(schema, index)));
  if (!isScalar(node)) return null;
  const { value, source } = node;
  const readAsOther = typeof value === 'number' || typeof value === 'boolean';
  return readAsOther && source !== undefined && schema && wantsText(schema) ? source : value;
}

import {
  isMap,
  isNode,
  isScalar,
  isSeq,
  Lexer,
  LineCounter,
  type Node,
  parseAllDocuments,
  Scalar,
  visit,
} from 'yaml';
import type { Problem } from '../model/problems.ts';
import type { Path, Place } from './document/document.ts';
import { below, type Schema, wantsText } from './schemaWalk.ts';
import { syntaxProblem, TOO_DEEP, tellingErrors } from './syntax.ts';

/** A file taken apart, with the place of everything in it. */
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
/** About 5 MB of usual YAML; parsing takes some 200 bytes of memory for each. */
const MAX_TOKENS = 3_000_000;
/** A text shorter than this cannot have too many. */
const CERTAINLY_FEW_TOKENS = 1_000_000;

/**
 * Reads YAML 1.2 (core schema: dates and NO stay text, only true and false are flags) or JSON, which is a part of
 * it. Tags, anchors, aliases, merge keys and several documents in one file are refused: JSON has none of them, and
 * aliases may unfold a small file into a huge one.
 */
export function readTree(
  text: string,
  file: string,
): { readonly tree: Tree } | { readonly problems: readonly Problem[] } {
  if (text.length > CERTAINLY_FEW_TOKENS && tokensOf(text) > MAX_TOKENS) {
    const what = `holds more than ${MAX_TOKENS.toLocaleString('en')} words and marks of YAML`;
    return { problems: [{ file, what, mend: 'split it into several files' }] };
  }
  try {
    return parse(text, file);
  } catch (error) {
    // The parser goes down one call a level; a stack that overflows is its way to say "too deep".
    if (!(error instanceof RangeError)) throw error;
    return { problems: [{ file, ...TOO_DEEP }] };
  }
}

function tokensOf(text: string): number {
  let count = 0;
  for (const _ of new Lexer().lex(text)) if (++count > MAX_TOKENS) break;
  return count;
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
    const mend = 'start with "caseback: dossier/1" or "caseback: catalogue/1"';
    return { problems: [{ file, what: 'is empty', mend }] };
  }
  const errors = documents.flatMap(({ errors, warnings }) =>
    [...errors, ...warnings].map(({ code, message, pos }) => ({ code, message, ...at(pos[0]) })),
  );
  const syntax = tellingErrors(errors).map(
    ({ code, message, line, column }): Problem => ({ file, line, column, ...syntaxProblem(code, message) }),
  );
  if (documents.length > 1 && syntax.length === 0) {
    syntax.push({
      file,
      ...at(documents[1].range?.[0] ?? 0),
      what: 'holds a second document',
      mend: 'put each dossier into a file of its own',
    });
  }
  if (syntax.length > 0) return { problems: syntax };
  const root = document.contents;
  const refused = refusals(root, file, at);
  if (refused.length > 0) return { problems: refused };
  return { tree: treeOf(root, twiceGiven(root, file, at), at) };
}

/** Constructs of YAML that a dossier may not use, each with the mend. */
function refusals(root: Node, file: string, at: (offset: number) => Place): Problem[] {
  const found: Problem[] = [];
  const add = (node: Node, what: string, mend: string) =>
    found.push({ file, ...at(node.range?.[0] ?? 0), what, mend });
  visit(root, {
    Alias(_, alias) {
      add(alias, `uses the alias *${alias.source}`, 'write the repeated part out');
    },
    Value(_, node, path) {
      if (path.length > MAX_DEPTH * 2) {
        add(node, TOO_DEEP.what, TOO_DEEP.mend);
        return visit.BREAK;
      }
      if (node.anchor) add(node, `sets the anchor &${node.anchor}`, 'leave it out');
      if (node.tag) add(node, `carries the tag ${shortTag(node.tag)}`, 'leave it out');
      return undefined;
    },
    Pair(_, { key }) {
      if (isScalar(key) && key.value === '<<' && key.type === Scalar.PLAIN) {
        add(key, 'uses the merge key "<<"', 'write the merged fields out');
      } else if (isNode(key) && !isScalar(key)) {
        add(key, 'has a list or group as a key', 'write a field name before the colon');
      }
    },
  });
  return found;
}

function shortTag(tag: string): string {
  return tag.replace(/^tag:yaml\.org,2002:/u, '!!');
}

function twiceGiven(root: Node, file: string, at: (offset: number) => Place): Problem[] {
  const found: Problem[] = [];
  visit(root, {
    Map(_, { items }) {
      const lines = new Map<string, number>();
      for (const { key } of items) {
        const name = keyText(key);
        const place = at(isNode(key) ? (key.range?.[0] ?? 0) : 0);
        const before = lines.get(name);
        if (before === undefined) lines.set(name, place.line);
        else {
          const what = `"${name}" is given twice; first on line ${before}`;
          found.push({ file, ...place, what, mend: 'keep one of the two' });
        }
      }
    },
  });
  return found;
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
 * Plain data of a node. Where the schema asks for text, what YAML would take for a number or a flag stays as it is
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

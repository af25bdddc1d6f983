import {
  type Document,
  isAlias,
  isMap,
  isNode,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  parseAllDocuments,
  visit,
} from 'yaml';
import type { Problem } from '../model/problems.ts';

/** Where something stands in a file; both count from 1. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

export type Path = readonly PropertyKey[];

/** Plain data read from YAML or JSON, with the place of everything in it. */
export interface Tree {
  readonly value: unknown;
  /** Place of the value at a path, or of the nearest thing around it that exists. */
  locate(path: Path): Place;
  /** Place of a key inside the map at a path. */
  locateKey(path: Path, key: string): Place;
}

/** Aliases are refused beyond this many times the size of the text, which stops files that unfold for ever. */
const MAX_ALIASES = 50;
const MAX_DEPTH = 40;

/**
 * Reads YAML 1.2 (core schema: dates stay text, only true and false are flags) or JSON, which is a part of it.
 * Tags, merge keys and several documents in one file are refused.
 */
export function readTree(
  text: string,
  file: string,
): { readonly tree: Tree } | { readonly problems: readonly Problem[] } {
  const lines = new LineCounter();
  const at = (offset: number): Place => {
    const { line, col } = lines.linePos(offset);
    return { line, column: col };
  };
  const deep = tooDeepAt(text);
  if (deep !== undefined) {
    const line = text.slice(0, deep).split('\n').length;
    return {
      problems: [
        { file, line, what: `nests more than ${MAX_DEPTH} levels deep`, mend: 'a dossier needs six' },
      ],
    };
  }
  const documents = parseAllDocuments(text, {
    version: '1.2',
    schema: 'core',
    merge: false,
    uniqueKeys: true,
    lineCounter: lines,
    prettyErrors: false,
  });
  if ('empty' in documents || documents.length === 0) {
    return {
      problems: [
        { file, what: 'is empty', mend: 'start with "caseback: dossier/1" or "caseback: catalogue/1"' },
      ],
    };
  }
  const problems: Problem[] = [];
  for (const { errors, warnings } of documents) {
    for (const { message, pos } of [...errors, ...warnings])
      problems.push({ file, ...at(pos[0]), ...inPlainWords(message) });
  }
  if (documents.length > 1 && problems.length === 0) {
    const start = documents[1].range?.[0] ?? 0;
    problems.push({
      file,
      ...at(start),
      what: 'holds a second document',
      mend: 'put each dossier into a file of its own',
    });
  }
  if (problems.length > 0) return { problems };
  const [document] = documents;
  const odd = oddities(document as Document.Parsed, file, at);
  if (odd.length > 0) return { problems: odd };
  try {
    return { tree: treeOf(document as Document.Parsed, document.toJS({ maxAliasCount: MAX_ALIASES }), at) };
  } catch (error) {
    const what = `cannot be unfolded: ${(error as Error).message}`;
    return { problems: [{ file, what, mend: 'write the repeated parts out instead of using aliases' }] };
  }
}

/** Constructs that the reader does not take, each with the mend. */
function oddities(document: Document.Parsed, file: string, at: (offset: number) => Place): Problem[] {
  const found: Problem[] = [];
  const add = (node: Node, what: string, mend: string) =>
    found.push({ file, ...at(node.range?.[0] ?? 0), what, mend });
  visit(document, {
    Node(_, node) {
      if (!isAlias(node) && node.tag && !node.tag.startsWith('tag:yaml.org,2002:')) {
        add(node, `carries the tag ${node.tag}`, 'leave the tag out');
      }
    },
    Pair(_, { key }) {
      if (isNode(key) && !(isScalar(key) && typeof key.value === 'string')) {
        add(key, 'has a key that is no text', 'put the key into quotation marks');
      } else if (isScalar(key) && key.value === '<<') {
        add(key, 'uses a merge key "<<"', 'write the merged fields out');
      }
    },
  });
  return found;
}

function treeOf(document: Document.Parsed, value: unknown, at: (offset: number) => Place): Tree {
  const nodeAt = (path: Path): Node | undefined => {
    let node: unknown = document.contents;
    for (const step of path) {
      if (isAlias(node)) node = node.resolve(document);
      const next: unknown =
        isMap(node) || isSeq(node)
          ? node.get(typeof step === 'symbol' ? String(step) : step, true)
          : undefined;
      if (!isNode(next)) break;
      node = next;
    }
    return isNode(node) ? node : undefined;
  };
  const locate = (path: Path) => at(nodeAt(path)?.range?.[0] ?? 0);
  return {
    value,
    locate,
    locateKey(path, key) {
      const node = nodeAt(path);
      const pair = isMap(node)
        ? node.items.find((item) => isScalar(item.key) && item.key.value === key)
        : undefined;
      return isNode(pair?.key) ? at(pair.key.range?.[0] ?? 0) : locate(path);
    },
  };
}

/** Offset at which brackets, dashes or indentation go too deep, seen before the parser recurses into them. */
function tooDeepAt(text: string): number | undefined {
  let depth = 0;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c === 0x5b || c === 0x7b) depth++;
    else if (c === 0x5d || c === 0x7d) depth = Math.max(0, depth - 1);
    if (depth > MAX_DEPTH) return i;
  }
  return /^ {200}|^(?: *[-?] +){41}/mu.exec(text)?.index;
}

function inPlainWords(message: string): { what: string; mend?: string } {
  if (/Map keys must be unique/u.test(message))
    return { what: 'has a key twice', mend: 'keep one of the two' };
  if (/tab/iu.test(message)) return { what: message, mend: 'indent with blanks instead of tabs' };
  if (/implicit map key|Nested mappings|block mapping/iu.test(message)) {
    return {
      what: message,
      mend: 'check the indentation and the colons; put text with ": " into quotation marks',
    };
  }
  return { what: message, mend: 'check the YAML around this place' };
}

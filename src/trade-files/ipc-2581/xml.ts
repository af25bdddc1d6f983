import { SaxesParser } from 'saxes';
import type { Findings } from '../board-design.ts';

/** An element with its attributes; text between elements tells nothing in IPC-2581. */
export interface Element {
  /** Without the prefix of its namespace. */
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly Element[];
  /** From 1. */
  readonly line: number;
}

interface OpenElement extends Element {
  readonly children: Element[];
}

/** Elements in elements; the deepest of the standard lie about fifteen deep. */
const MAX_DEPTH = 60;
/** Characters given to the parser at a time. */
const CHUNK = 1 << 16;

class Stop extends Error {}

/**
 * Reads an XML text to its elements, without those that `isWanted` turns down, and all below them. Entities other than the five
 * that XML itself has are not expanded: a text that needs them is refused.
 * @param isWanted by name and names above, outermost first
 */
export function readXml(
  text: string,
  isWanted: (name: string, above: readonly string[]) => boolean,
  findings: Findings,
): Element | undefined {
  const parser = new SaxesParser({ xmlns: false, position: true });
  const open: OpenElement[] = [];
  const names: string[] = [];
  let root: Element | undefined;
  let passed = 0;
  parser.on('error', ({ message }) => {
    // saxes begins its messages with the place.
    const what = message.replace(/^(?:[^:]*:)?\d+:\d+:\s*/u, '');
    findings.problem(parser.line, `is not well-formed XML: ${what}`, 'export it again; it may be cut off');
    throw new Stop();
  });
  parser.on('opentag', ({ name: qualified, attributes }) => {
    if (passed > 0 || names.length >= MAX_DEPTH) {
      if (passed === 0 && names.length >= MAX_DEPTH) {
        findings.problem(parser.line, `has more than ${MAX_DEPTH} elements in elements`, 'export it again');
        throw new Stop();
      }
      passed++;
      return;
    }
    const name = qualified.replace(/^.*:/u, '');
    if (!isWanted(name, names)) {
      passed = 1;
      return;
    }
    const element: OpenElement = { name, attributes, children: [], line: parser.line };
    const parent = open.at(-1);
    if (parent) parent.children.push(element);
    else root = element;
    open.push(element);
    names.push(name);
  });
  parser.on('closetag', () => {
    if (passed > 0) passed--;
    else {
      open.pop();
      names.pop();
    }
  });
  try {
    for (let at = 0; at < text.length; at += CHUNK) parser.write(text.slice(at, at + CHUNK));
    parser.close();
  } catch (error) {
    if (!(error instanceof Stop)) throw error;
    return undefined;
  }
  return root;
}

/** Children of a name. */
export function childrenOf(element: Element | undefined, name: string): readonly Element[] {
  return element?.children.filter((child) => child.name === name) ?? [];
}

/** The first child of a name. */
export function childOf(element: Element | undefined, name: string): Element | undefined {
  return element?.children.find((child) => child.name === name);
}

/** Value of an attribute; undefined when it is missing or empty. */
export function attribute(element: Element | undefined, name: string): string | undefined {
  const value = element?.attributes[name]?.trim();
  return value === '' ? undefined : value;
}

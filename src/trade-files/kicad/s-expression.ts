import type { Findings } from '../board-design.ts';

/** A list of an S-expression: `(name value … (child …) …)`. */
export interface Form {
  readonly name: string;
  /** Atoms after the name, without quotation marks. */
  readonly values: readonly string[];
  readonly children: readonly Form[];
  /** From 1. */
  readonly line: number;
}

interface OpenForm extends Form {
  readonly values: string[];
  readonly children: Form[];
}

/** Lists in lists; board files have a dozen. */
const MAX_DEPTH = 60;

/**
 * Reads one S-expression. Lists whose name is in `skipped` are passed over without being kept, which is most of a board
 * file. Time and memory grow with the text alone.
 * @returns undefined with a problem for what is cut off, has a bracket too many or lists too deep
 */
export function readForm(text: string, skipped: ReadonlySet<string>, findings: Findings): Form | undefined {
  const open: OpenForm[] = [];
  let line = 1;
  let at = 0;
  while (at < text.length) {
    const character = text[at] as string;
    if (character === '\n') line++;
    if (isSpace(character)) {
      at++;
    } else if (character === '(') {
      const name = bareFrom(text, at + 1);
      if (open.length >= MAX_DEPTH) {
        findings.problem(line, `has more than ${MAX_DEPTH} brackets in brackets`, 'export the board again');
        return undefined;
      }
      if (skipped.has(name)) {
        const passed = passOver(text, at);
        if (passed === undefined) return cutOff(line, findings);
        line += passed.lines;
        at = passed.end;
        continue;
      }
      const form: OpenForm = { name, values: [], children: [], line };
      open.at(-1)?.children.push(form);
      open.push(form);
      at += 1 + name.length;
    } else if (character === ')') {
      const closed = open.pop();
      if (!closed) {
        findings.problem(line, 'has a closing bracket too many', 'export the board again');
        return undefined;
      }
      at++;
      if (open.length === 0) return closed;
    } else if (open.length === 0) {
      findings.problem(line, 'does not start with an opening bracket', 'export the board again');
      return undefined;
    } else if (character === '"') {
      const quoted = quotedFrom(text, at);
      if (quoted === undefined) return cutOff(line, findings);
      (open.at(-1) as OpenForm).values.push(quoted.value);
      line += quoted.lines;
      at = quoted.end;
    } else {
      const atom = bareFrom(text, at);
      (open.at(-1) as OpenForm).values.push(atom);
      at += atom.length;
    }
  }
  return cutOff(line, findings);
}

/** The first child of a name. */
export function childOf(form: Form, name: string): Form | undefined {
  return form.children.find((child) => child.name === name);
}

/** The first value of the first child of a name. */
export function firstValue(form: Form, name: string): string | undefined {
  return childOf(form, name)?.values[0];
}

function cutOff(line: number, findings: Findings): undefined {
  findings.problem(
    line,
    'ends in the middle: a bracket or quotation mark is not closed',
    'copy or export it again',
  );
}

function isSpace(character: string): boolean {
  return character === ' ' || character === '\n' || character === '\t' || character === '\r';
}

const BARE_END = /[\s()"]/gu;

function bareFrom(text: string, at: number): string {
  BARE_END.lastIndex = at;
  const end = BARE_END.exec(text)?.index ?? text.length;
  return text.slice(at, end);
}

function quotedFrom(
  text: string,
  at: number,
): { readonly value: string; readonly end: number; readonly lines: number } | undefined {
  let end = text.indexOf('"', at + 1);
  // A quotation mark counts when an even number of backslashes stands before it.
  while (end !== -1 && backslashesBefore(text, end) % 2 === 1) end = text.indexOf('"', end + 1);
  if (end === -1) return undefined;
  const raw = text.slice(at + 1, end);
  const lines = raw.includes('\n') ? raw.split('\n').length - 1 : 0;
  const value = raw.includes('\\') ? raw.replace(/\\(.)/gsu, (_, c: string) => ESCAPES[c] ?? c) : raw;
  return { value, end: end + 1, lines };
}

const ESCAPES: Readonly<Record<string, string>> = { n: '\n', t: '\t', r: '\r' };

function backslashesBefore(text: string, at: number): number {
  let count = 0;
  while (text[at - 1 - count] === '\\') count++;
  return count;
}

const MARKS = /[()"\n]/gu;

/** End of the list that opens at a place, and the line ends in it. */
function passOver(text: string, at: number): { readonly end: number; readonly lines: number } | undefined {
  let depth = 0;
  let lines = 0;
  MARKS.lastIndex = at;
  for (let mark = MARKS.exec(text); mark; mark = MARKS.exec(text)) {
    if (mark[0] === '\n') lines++;
    else if (mark[0] === '(') depth++;
    else if (mark[0] === ')') {
      depth--;
      if (depth === 0) return { end: mark.index + 1, lines };
    } else {
      const quoted = quotedFrom(text, mark.index);
      if (!quoted) return undefined;
      lines += quoted.lines;
      MARKS.lastIndex = quoted.end;
    }
  }
  return undefined;
}

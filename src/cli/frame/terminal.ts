import { readFileSync } from 'node:fs';
import { plainText } from '../../text/plain-text.ts';

/** Where a command reads and writes; tests bring their own. */
export interface Terminal {
  /** Answers: standard output. */
  out(text: string): void;
  /** Messages: standard error. */
  message(text: string): void;
  /** All of standard input. */
  input(): string;
  /** Whether a person would have to type the input. */
  readonly isInputTyped: boolean;
}

/** The terminal of this process. */
export const PROCESS_TERMINAL: Terminal = {
  out: (text) => void process.stdout.write(text),
  message: (text) => void process.stderr.write(text),
  input: () => readFileSync(0, 'utf8'),
  get isInputTyped() {
    return process.stdin.isTTY === true;
  },
};

/**
 * A terminal that gets nothing but text: what could steer it, from records, files or arguments, is written out. Content of
 * JSON and YAML stays what it was, which write such characters the same way.
 */
export function guardedTerminal(terminal: Terminal): Terminal {
  return {
    out: (text) => terminal.out(plainText(text)),
    message: (text) => terminal.message(plainText(text)),
    input: () => terminal.input(),
    get isInputTyped() {
      return terminal.isInputTyped;
    },
  };
}

import { readFileSync } from 'node:fs';

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

/** Exit codes, the same for all commands. */
export const EXIT = { fine: 0, problems: 1, usage: 2, damaged: 3, other: 4 } as const;

export const EXIT_HELP = `Exit codes: 0 fine; 1 problems in the input or findings; 2 wrong usage; 3 the archive is damaged, in use or cannot be
written; 4 anything else. Answers go to standard output, messages to standard error.`;

/** Raised for a command line that cannot be understood. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}

/** Raised when the surroundings do not allow the work: a port in use, no service at an address. */
export class Unable extends Error {
  override readonly name = 'Unable';
}

/** Characters of input that a message repeats at most. */
const MAX_QUOTED = 80;

/** Input as a message repeats it: in quotation marks, on one line and short. */
export function quoted(input: string): string {
  const line = input
    .replaceAll(/\s+/gu, ' ')
    .replaceAll(/\p{Cc}/gu, '?')
    .trim();
  return `"${line.length > MAX_QUOTED ? `${line.slice(0, MAX_QUOTED)}…` : line}"`;
}

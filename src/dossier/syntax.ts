import type { YAMLError } from 'yaml';

export const TOO_DEEP = {
  what: 'nests far deeper than a dossier does',
  fix: 'a dossier needs six levels; check the brackets and the indentation',
} as const;

type Code = YAMLError['code'];

/**
 * The errors worth reporting: the first of each line, since one slip causes several parser errors; only
 * the tabs when there are any, since everything after a tab is misread.
 */
export function errorsToReport<E extends { readonly code: Code; readonly line: number }>(
  errors: readonly E[],
): readonly E[] {
  const deep = errors.filter(({ code }) => code === 'RESOURCE_EXHAUSTION').slice(0, 1);
  if (deep.length > 0) return deep;
  const tabs = errors.filter(({ code }) => code === 'TAB_AS_INDENT');
  const lines = new Set<number>();
  return (tabs.length > 0 ? tabs : [...errors].sort((a, b) => a.line - b.line)).filter(({ line }) => {
    const first = !lines.has(line);
    lines.add(line);
    return first;
  });
}

/** What the YAML parser found wrong, in words for people who write dossiers, not parsers. */
export function syntaxProblem(code: Code, message: string): { what: string; fix: string } {
  switch (code) {
    case 'RESOURCE_EXHAUSTION':
      return TOO_DEEP;
    case 'TAB_AS_INDENT':
      return { what: 'is indented with a tab', fix: 'indent with blanks' };
    case 'BLOCK_AS_IMPLICIT_KEY':
      return {
        what: 'has fields where text was expected',
        fix: 'put text that holds ": ", or is just "?" or "-", into quotation marks; start inner fields on a new line',
      };
    case 'MULTILINE_IMPLICIT_KEY':
      return {
        what: 'has text where a field was expected',
        fix: 'write "field: value"; check for a missing colon, and indent text that runs over several lines',
      };
    case 'BAD_INDENT': {
      const open = /end with a ([\]}])/u.exec(message)?.[1];
      if (open) {
        const what = `is where a bracket opened above is not closed yet`;
        return { what, fix: `put the "${open}" at the end of the list or group above` };
      }
      return { what: plain(message), fix: 'line the fields of one group up under one another' };
    }
    case 'MISSING_CHAR':
      return missing(message);
    case 'BAD_SCALAR_START':
      return { what: plain(message), fix: 'put the text into quotation marks' };
    case 'BAD_DQ_ESCAPE':
      return {
        what: plain(message),
        fix: "write a real backslash twice, or use single quotation marks ('…') around the text",
      };
    case 'TAG_RESOLVE_FAILED':
      return {
        what: `carries a tag (${plain(message)})`,
        fix: 'leave the tag out; put text that starts with "!" into quotation marks',
      };
    case 'BAD_ALIAS':
    case 'ALIAS_PROPS':
      return { what: plain(message), fix: 'put text that starts with "*" or "&" into quotation marks' };
    case 'BAD_DIRECTIVE':
      return { what: plain(message), fix: 'leave the line out' };
    case 'KEY_OVER_1024_CHARS':
      return { what: 'has a key of more than 1024 characters', fix: 'check for a missing quotation mark' };
    default:
      return {
        what: plain(message),
        fix: 'check commas, colons, brackets, quotation marks and indentation around this place',
      };
  }
}

function missing(message: string): { what: string; fix: string } {
  if (/without - indicator/u.test(message)) {
    return {
      what: 'is indented like no line above it',
      fix: 'line the fields of one entry up under one another; start each entry of a list with "- "',
    };
  }
  if (/map keys need/u.test(message)) {
    return { what: 'has no colon', fix: 'write "field: value", with a blank after the colon' };
  }
  if (/quote/u.test(message)) {
    return { what: 'ends inside quotation marks', fix: 'close them; they may have been opened far above' };
  }
  const fix = /, /u.test(message)
    ? 'put a comma between the entries, or close the bracket'
    : 'close the bracket, or check the colon';
  return { what: plain(message), fix };
}

/** The library's message as the end of a sentence. */
function plain(message: string): string {
  return message.charAt(0).toLowerCase() + message.slice(1);
}

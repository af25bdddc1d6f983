// What a file is, by its first bytes, whatever its name says.

/** Beginning of a ZIP (APPNOTE 6.3.10, 4.3.7), and of an empty one. */
const ZIP = [
  [0x50, 0x4b, 0x03, 0x04],
  [0x50, 0x4b, 0x05, 0x06],
] as const;
/** Beginning of a compound file: [MS-CFB] 2.2. */
const COMPOUND = [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1] as const;
/** Bytes in which the directory of a compound file is sought. */
const SEARCHED = 1 << 20;

/** Whether a file is to be read as a workbook. */
export function isZip(bytes: Uint8Array): boolean {
  return ZIP.some((magic) => magic.every((byte, at) => bytes[at] === byte));
}

/** What an older or encrypted workbook is, with the fix; undefined for files that are none. */
export function compoundFault(
  bytes: Uint8Array,
): { readonly what: string; readonly fix: string } | undefined {
  if (!COMPOUND.every((byte, at) => bytes[at] === byte)) return undefined;
  const beginning = Buffer.from(bytes.buffer, bytes.byteOffset, Math.min(bytes.byteLength, SEARCHED));
  const holds = (name: string) => beginning.includes(Buffer.from(name, 'utf16le'));
  if (holds('EncryptedPackage')) return { what: 'is encrypted', fix: 'save it without a password' };
  if (holds('Workbook') || holds('Book'))
    return { what: 'is a workbook of the older form (XLS)', fix: 'save it as XLSX' };
  return { what: 'is an office file of the older form', fix: 'save the list as XLSX or CSV' };
}

/** What a file that is named as a workbook is instead, as a sentence without a subject. */
export function contentFault(bytes: Uint8Array): string {
  if (bytes.byteLength === 0) return 'is empty';
  const beginning = Buffer.from(bytes.buffer, bytes.byteOffset, Math.min(bytes.byteLength, 4_096)).toString(
    'latin1',
  );
  const kind = KINDS.find(([, pattern]) => pattern.test(beginning))?.[0];
  return kind === undefined
    ? 'is no workbook, whatever its name says, and no list with headings known here'
    : `is ${kind} under the name of a workbook`;
}

const KINDS: readonly (readonly [kind: string, beginning: RegExp])[] = [
  ['PDF', /^%PDF-/u],
  ['a picture', /^(?:\x89PNG|\xff\xd8\xff|GIF8|BM)/u],
  ['SVG', /^[^<]{0,4}(?:<\?xml[^>]*>\s*)?(?:<!--[^>]*-->\s*)?<svg[\s>]/iu],
  ['HTML', /<(?:!doctype html|html)[\s>]/iu],
  ['XML', /^[^<]{0,4}<\?xml/u],
  ['HTML', /<(?:table|body|head)[\s>]/iu],
];

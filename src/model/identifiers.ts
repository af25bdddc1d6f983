/** An id used across the archive: lower-case words joined by hyphens. */
export const SLUG = /^[a-z0-9]+(?:-[a-z0-9]+)*$/u;

/** A part number as printed in a catalogue. */
export const PART_NUMBER = /^[A-Za-z0-9][A-Za-z0-9._+-]{0,39}$/u;

/** SHA-256 in lower-case hexadecimal. */
export const SHA256 = /^[0-9a-f]{64}$/u;

/**
 * FCC identifier (47 CFR 2.926): a grantee code of three characters, or of five that begin with a digit 2–9,
 * then a product code of at most 14 characters (letters, digits, hyphens).
 * @returns grantee and product code, or undefined when the structure does not hold
 */
export function splitFccId(id: string): { readonly grantee: string; readonly product: string } | undefined {
  const match = /^(?:([2-9][A-Z0-9]{4})|([A-Z][A-Z0-9]{2}))([A-Z0-9-]{1,14})$/u.exec(id);
  return match ? { grantee: match[1] ?? match[2], product: match[3] } : undefined;
}

/**
 * Check digit of GTIN-8, -12, -13 and -14 (GS1 General Specifications, check digit calculation): weights 3
 * and 1 alternate from the right, the sum is a multiple of ten.
 */
export function isGtin(text: string): boolean {
  if (!/^(?:\d{8}|\d{12,14})$/u.test(text)) return false;
  let sum = 0;
  for (let i = 0; i < text.length; i++) sum += Number(text.at(-1 - i)) * (i % 2 === 0 ? 1 : 3);
  return sum % 10 === 0;
}

/** Ingress protection code (IEC 60529, clause 4): two numerals or X, then optional letters. */
export function isIngressCode(text: string): boolean {
  return /^IP[0-6X][0-9X][A-D]?[HMSW]*$/u.test(text) && text !== 'IPXX';
}

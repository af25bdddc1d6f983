import { describe, expect, test } from 'vitest';
import { type Held, NOTHING_HELD } from '../../../src/dossier/check/context.ts';
import { documentOf, GOOD_CATALOGUE, GOOD_DOSSIER } from '../files.ts';
import { findingsIn, withCatalogue, withDossier } from './findings.ts';

const hidden = (character: string) =>
  expect.stringMatching(
    new RegExp(`holds the character ${character.replace('+', '\\+')}, which is not seen`, 'u'),
  );

describe('texts have an end', () => {
  test('a name of two million characters', () => {
    expect(withDossier('name: Tarn Sennit 3', `name: ${'x'.repeat(2_000_000)}`)).toEqual([
      'a.yaml:4 device.name: has 2,000,000 characters; at most 500 are taken — shorten it',
    ]);
    expect(withCatalogue('name: Tarn', `name: ${'x'.repeat(501)}`)).toEqual([
      expect.stringContaining('has 501 characters; at most 500 are taken'),
    ]);
    expect(withCatalogue('name: Tarn', `name: ${'x'.repeat(500)}`)).toEqual([]);
  });

  test('a remark', () => {
    const noted = (length: number) =>
      withDossier('by: I. Example', `by: I. Example\n  note: ${'x'.repeat(length)}`);
    expect(noted(20_000)).toEqual([]);
    expect(noted(20_001)).toEqual([expect.stringContaining('teardown.note: has 20,001 characters')]);
  });
});

describe('texts hold nothing that is not seen', () => {
  // The example of N. Boucher and R. Anderson, "Trojan Source: Invisible Vulnerabilities" (2021): an override and isolates that
  // end a comment for the reader alone. From memory.
  test.each(['\u202E', '\u202A', '\u2066', '\u2069', '\u001B', '\u009B', '\u0000'])('%j', (character) => {
    const code = `U+${character.charCodeAt(0).toString(16).padStart(4, '0').toUpperCase()}`;
    const quoted = JSON.stringify(`Tarn ${character}tinneS`)
      .replace('\u202E', '\\u202e')
      .replace('\u009B', '\\u009b');
    expect(withDossier('name: Tarn Sennit 3', `name: ${quoted}`)).toEqual([hidden(code)]);
    expect(withCatalogue('name: Tarn', `name: ${quoted}`)).toEqual([hidden(code)]);
  });

  test('words of right-to-left scripts, with their marks, are words', () => {
    expect(withDossier('by: I. Example', 'by: "\u05D3\u05D5\u05D2\u05DE\u05D4 \u200F(1)"')).toEqual([]);
  });
});

describe('what the archive holds already is cautioned, and refused nowhere else', () => {
  const dossier = GOOD_DOSSIER.replace('name: Tarn Sennit 3', 'name: "Tarn \\u202eSennit"');
  const catalogue = GOOD_CATALOGUE.replace('name: Tarn', `name: ${'x'.repeat(600)}`);
  const read = { dossier: documentOf(dossier, 'held.yaml'), catalogue: documentOf(catalogue, 'held.yaml') };
  const held: Held = {
    ...NOTHING_HELD,
    record: (collection, id) =>
      read.catalogue.kind === 'catalogue'
        ? (read.catalogue.catalogue[collection].find((one) => 'id' in one && one.id === id) as never)
        : undefined,
    dossierNow: (id) =>
      read.dossier.kind === 'dossier' && id === 'tarn-sennit-3/a' ? read.dossier.dossier : undefined,
  };

  test('the same files again', () => {
    expect(findingsIn([dossier, catalogue], held)).toEqual([
      expect.stringMatching(/^caution a\.yaml:4 device\.name: holds the character U\+202E/u),
      expect.stringMatching(/^caution b\.yaml:\d+ makers\[0\]\.name: has 600 characters/u),
    ]);
  });

  test('another field of the same records changed', () => {
    const changed = catalogue.replace(/makes: \[[a-z, ]+\]/u, 'makes: [devices, parts]');
    expect(changed).not.toBe(catalogue);
    expect(findingsIn([GOOD_DOSSIER, changed], held)).toEqual([expect.stringMatching(/^caution b\.yaml/u)]);
  });

  test('the same text elsewhere', () => {
    const other = GOOD_CATALOGUE.replace('name: Tarn', `name: ${'x'.repeat(601)}`);
    expect(findingsIn([GOOD_DOSSIER, other], held)).toEqual([expect.stringMatching(/^b\.yaml.*601/u)]);
  });
});

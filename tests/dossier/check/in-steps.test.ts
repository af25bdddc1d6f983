import { expect, test } from 'vitest';
import { NOTHING_HELD } from '../../../src/dossier/check/context.ts';
import {
  ARCHIVE_RULES,
  checkDocuments,
  checkingDocuments,
  DOSSIER_RULES,
} from '../../../src/dossier/check/rules.ts';
import { changed, documentOf, GOOD_CATALOGUE, GOOD_DOSSIER } from '../files.ts';

const unknown = (count: number) =>
  documentOf(
    changed(
      GOOD_DOSSIER,
      '{ part: quistle/QWR4T10, probability: 0.7 }',
      Array.from({ length: count }, (_, i) => `{ part: quistle/QWR4T1${i}x, probability: 0.0${i} }`).join(
        '\n      - ',
      ),
    ),
  );

test('names that others are near are looked up one a step, since the archive may have very many', () => {
  let looked = 0;
  const held = {
    ...NOTHING_HELD,
    ids: () => {
      looked++;
      return ['quistle/QWR4T10'];
    },
  };
  const documents = [documentOf(GOOD_CATALOGUE), unknown(6)];
  const steps = checkingDocuments(documents, held);
  const each: number[] = [];
  for (;;) {
    looked = 0;
    const { done, value } = steps.next();
    each.push(looked);
    if (!done) continue;
    expect(value).toEqual(checkDocuments(documents, held));
    const fixes = value.filter(({ what }) => what.startsWith('no part')).map(({ fix }) => fix);
    expect(fixes).toEqual(Array(6).fill('did you mean "quistle/QWR4T10"?'));
    break;
  }
  expect(each.reduce((sum, count) => sum + count, 0)).toBeGreaterThanOrEqual(6);
  expect(Math.max(...each)).toBe(1);
  expect(each.length).toBeGreaterThan(DOSSIER_RULES.length + ARCHIVE_RULES.length + 6);
});

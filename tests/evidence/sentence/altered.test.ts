import { beforeAll, describe, expect, test } from 'vitest';
import { type AuditedClaim, auditClaim, auditClaims } from '../../../src/evidence/audit.ts';
import { kindsIn } from '../../../src/evidence/sentence/kinds.ts';
import { quantitiesIn } from '../../../src/evidence/sentence/quantities.ts';
import type { State } from '../../../src/state/state.ts';
import { demoArchive } from '../../trends/demo.ts';

// A sentence that fits is altered so that it no longer does: whatever was altered must be found.

let state: State;
let fitting: readonly AuditedClaim[];
beforeAll(async () => {
  state = (await demoArchive()).state('desk');
  fitting = (await auditClaims(state)).filter(({ findings }) => findings.length === 0);
  expect(fitting.length).toBeGreaterThanOrEqual(10);
});

const findings = async ({ publication, claim }: AuditedClaim, sentence: string) =>
  (await auditClaim(state, publication, { ...claim, sentence })).findings.map(({ about }) => about);

describe('a sentence of the demo that fits its evidence no longer does', () => {
  test.each([10, 0.1, 3])('with every number %d times as large', async (times) => {
    let altered = 0;
    for (const one of fitting) {
      const { sentence } = one.claim;
      for (const { value, start, end } of quantitiesIn(sentence)) {
        const written = sentence
          .slice(start, end)
          .replace(/^[\d.]+|^\p{L}+/u, String(Number((value * times).toPrecision(3))));
        const text = sentence.slice(0, start) + written + sentence.slice(end);
        expect({ text, found: await findings(one, text) }).toEqual({
          text,
          found: expect.arrayContaining([expect.stringMatching(/^quantity /u)]),
        });
        altered++;
      }
    }
    expect(altered).toBeGreaterThanOrEqual(5);
  });

  test.each(['infrared thermometer', 'image sensor', 'cellular modem', 'humidity sensor'])(
    'with a %s for another kind',
    async (other) => {
      let altered = 0;
      for (const one of fitting) {
        const { sentence } = one.claim;
        for (const { start, end, isDenied } of kindsIn(sentence)) {
          if (isDenied) continue;
          const text = `${sentence.slice(0, start)}${other}${sentence.slice(end)}`;
          const found = await findings(one, text);
          expect({ text, found: found.filter((about) => about.startsWith('component ')) }).toEqual({
            text,
            found: [`component ${other}`],
          });
          altered++;
        }
      }
      expect(altered).toBeGreaterThanOrEqual(8);
    },
  );

  test.each([
    'Most of the rings have it.',
    'It is the first to have it.',
    'It is the only one.',
    'No device lacks it.',
  ])('with “%s” behind it', async (more) => {
    for (const one of fitting) {
      const found = await findings(one, `${one.claim.sentence} ${more}`);
      expect(found.filter((about) => about.startsWith('quantifier '))).toHaveLength(1);
    }
  });
});

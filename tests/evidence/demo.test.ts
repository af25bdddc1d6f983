import { beforeAll, expect, test } from 'vitest';
import type { AuditedClaim } from '../../src/evidence/audit.ts';
import { auditClaims } from '../../src/evidence/audit.ts';
import { demoArchive } from '../trends/demo.ts';

// The demo archive holds sentences that are wrong on purpose; their notes say how.

let audited: readonly AuditedClaim[];
beforeAll(async () => {
  audited = await auditClaims((await demoArchive()).state('desk'));
});

const kinds = ({ findings }: AuditedClaim) => findings.map(({ kind }) => kind);

test('every sentence whose note calls it overstated or understated is found to be so', () => {
  const wrong = audited.filter(({ claim }) => /^(over|under)stated/iu.test(claim.note ?? ''));
  expect(wrong.length).toBeGreaterThanOrEqual(6);
  for (const one of wrong) {
    const kind = one.claim.note?.toLowerCase().startsWith('over') ? 'overstated' : 'understated';
    expect({ id: one.id, kinds: kinds(one) }).toEqual({ id: one.id, kinds: expect.arrayContaining([kind]) });
  }
});

test('no other sentence has a finding, unless its note explains it', () => {
  const found = audited.filter(({ findings }) => findings.length > 0);
  expect(found.filter(({ claim }) => claim.note === undefined).map(({ id }) => id)).toEqual([]);
});

test('a sentence on a reading that was corrected later is supported by something withdrawn', () => {
  const one = audited.find(({ id }) => id === 'bench-letter-31/c1');
  expect(one && kinds(one)).toContain('withdrawn');
});

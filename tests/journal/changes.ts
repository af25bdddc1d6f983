import fc from 'fast-check';
import type { Change } from '../../src/model/entry.ts';

/** Changes with any payload that JSON can hold: a journal does not look inside. */
export const anyChanges: fc.Arbitrary<Change[]> = fc.array(
  fc.record({
    actor: fc.string({ unit: 'grapheme' }),
    reason: fc.string({ unit: 'binary' }),
    kind: fc.constantFrom('record-put', 'dossier-put', 'observation-recorded', 'identification-set'),
    payload: fc.jsonValue({ stringUnit: 'binary' }),
  }) as fc.Arbitrary<unknown> as fc.Arbitrary<Change>,
  { maxLength: 5 },
);

/** As many small changes, all of them different. */
export function numbered(count: number): Change[] {
  return Array.from({ length: count }, (_, i) => {
    const payload = { collection: 'makers', record: { id: `maker-${i}`, name: `Maker ${i}` } };
    return { actor: 'bench', reason: `change ${i}`, kind: 'record-put', payload } as unknown as Change;
  });
}

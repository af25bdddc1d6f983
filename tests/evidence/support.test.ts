import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { z } from 'zod';
import { auditClaims } from '../../src/evidence/audit.ts';
import type { claimSchema } from '../../src/model/catalogue.ts';
import type { candidateSchema, observationSchema } from '../../src/model/dossier.ts';
import type { Change } from '../../src/model/entry.ts';
import type { State } from '../../src/state/state.ts';
import { BY, catalogueChanges, DEVICE, dossierChange, liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';

type ClaimWritten = Omit<z.input<typeof claimSchema>, 'id'>;
type Chip = z.input<typeof candidateSchema>[];

interface World {
  readonly chips?: readonly Chip[];
  readonly observations?: readonly z.input<typeof observationSchema>[];
  readonly more?: readonly Change[];
}

const SEEN = { id: 'seen', about: ['U1'], kind: 'marking' as const, marking: '4T10' };

function viewWith(
  claims: readonly ClaimWritten[],
  { chips = [], observations = [], more = [] }: World,
): State {
  const publication = {
    id: 'publication',
    kind: 'article' as const,
    title: 'A publication',
    claims: claims.map((one, at) => ({ id: `c${at + 1}`, ...one })),
  };
  const dossier = dossierChange({
    device: DEVICE,
    specimen: { id: 'a' },
    components: chips.map((_, at) => ({ id: `U${at + 1}` })),
    observations: [...observations],
    identifications: chips.map((candidates, at) => ({ component: `U${at + 1}`, candidates })),
  });
  const sources = catalogueChanges({ sources: [{ id: 'sheet', kind: 'data-sheet', title: 'A sheet' }] });
  const live = liveOf([
    ...SMALL_CATALOGUE,
    ...sources,
    dossier,
    ...more,
    ...catalogueChanges({ publications: [publication] }),
  ]);
  return live.state('desk', '2026-06-01T00:00:00.000Z');
}

async function audit(claim: ClaimWritten, world: World = {}) {
  const all = await auditClaims(viewWith([claim], world));
  return all[0];
}

const chip = (probability: number): Chip => [{ part: 'quistle/QWR4T10', probability }];
const on = (local: string) => `${DEVICE.id}/a/${local}`;

describe('the probability of a sentence', () => {
  test('independent items multiply; bounds are those of Fréchet (1935), worked by hand', async () => {
    // 0.9 × 0.8 = 0.72; at least 0.9 + 0.8 - 1 = 0.7; at most the weaker, 0.8.
    const two = { sentence: 'Both sense motion.', supportedBy: [on('U1'), on('U2')] };
    const { support } = await audit(two, { chips: [chip(0.9), chip(0.8)] });
    expect(support).toMatchObject({ probability: 0.72, low: 0.7, high: 0.8 });
    // 0.5 × 0.4 × 0.9 = 0.18; 0.5 + 0.4 + 0.9 - 2 < 0, so 0; at most 0.4.
    const three = { sentence: 'All three do.', supportedBy: [on('U1'), on('U2'), on('U3')] };
    const found = await audit(three, { chips: [chip(0.5), chip(0.4), chip(0.9)] });
    expect(found.support).toMatchObject({ probability: 0.18, low: 0, high: 0.4 });
  });

  test('the product is within the bounds, for any items', async () => {
    const hundredths = fc.array(fc.integer({ min: 1, max: 100 }), { minLength: 1, maxLength: 5 });
    await fc.assert(
      fc.asyncProperty(hundredths, async (chances) => {
        const chips = chances.map((one) => chip(one / 100));
        const claim = { sentence: 'So.', supportedBy: chances.map((_, at) => on(`U${at + 1}`)) };
        const { support } = await audit(claim, { chips });
        expect(support.probability).toBeCloseTo(
          chances.reduce((product, one) => product * (one / 100), 1),
          8,
        );
        expect(support.low).toBeLessThanOrEqual((support.probability ?? 0) + 1e-9);
        expect(support.high).toBeGreaterThanOrEqual((support.probability ?? 1) - 1e-9);
      }),
      { numRuns: 25 },
    );
  });

  test('a component counts as the part named with it, otherwise as its likeliest kind', async () => {
    const chips: Chip[] = [
      [
        { part: 'quistle/QWR4T10', probability: 0.7 },
        { part: 'quistle/QWR4T60', probability: 0.25 },
      ],
    ];
    const named = await audit({ sentence: 'S.', supportedBy: [on('U1'), 'quistle/QWR4T60'] }, { chips });
    expect(named.support.probability).toBe(0.25);
    const kind = await audit({ sentence: 'S.', supportedBy: [on('U1')] }, { chips });
    expect(kind.support.probability).toBe(0.95);
    expect(kind.support.items[0].description).toContain('Accelerometer');
  });

  test('sources, units and devices have no probability and change none', async () => {
    const claim = { sentence: 'S.', supportedBy: ['sheet', `${DEVICE.id}/a`, DEVICE.id, on('U1')] };
    expect((await audit(claim, { chips: [chip(0.8)] })).support.probability).toBe(0.8);
    const bare = await audit({ sentence: 'S.', supportedBy: ['sheet'] });
    expect(bare.support).toMatchObject({ probability: null, low: null, high: null });
    expect(bare.proposal).toBeNull();
    expect(bare.findings.map(({ kind }) => kind)).toEqual(['unsupported']);
  });

  test("the author's probability counts where it is lower", async () => {
    const claim = { sentence: 'S.', supportedBy: [on('U1')], probability: 0.6 };
    const { probability, findings } = await audit(claim, { chips: [chip(0.98)] });
    expect(probability).toBe(0.6);
    expect(findings).toEqual([
      {
        kind: 'overstated',
        about: 'wording',
        message:
          'It is stated flatly, which takes a probability of 0.95 to 1.00; its author gave 0.60. To fit, say "about as likely as not".',
      },
    ]);
  });
});

describe('findings of a sentence', () => {
  const kinds = async (claim: ClaimWritten, world: World) =>
    (await audit(claim, world)).findings.map(({ kind }) => kind);

  test('wording compared with the evidence: too strong, too weak, fitting', async () => {
    const saying = (words: string) => ({
      sentence: `It is ${words} an Accelerometer.`,
      supportedBy: [on('U1')],
    });
    const world = { chips: [chip(0.8)] };
    expect(await kinds(saying('very likely'), world)).toEqual(['overstated']);
    expect(await kinds(saying('likely'), world)).toEqual([]);
    expect(await kinds(saying('about as likely as not'), world)).toEqual(['understated']);
    expect(await kinds(saying('unlikely'), world)).toEqual(['understated']);
    expect(await kinds(saying('plainly'), world)).toEqual(['overstated']);
  });

  test('an observation withdrawn or corrected later supports nothing', async () => {
    const claim = { sentence: 'It reads 4T10.', supportedBy: [on('seen')] };
    expect(await kinds(claim, { chips: [chip(1)], observations: [SEEN] })).toEqual([]);
    const payload = { specimen: `${DEVICE.id}/a`, observation: 'seen' };
    const taken = { ...BY, kind: 'observation-withdrawn', payload } as const;
    const back = await audit(claim, { chips: [chip(1)], observations: [SEEN], more: [taken] });
    expect(back.findings.map(({ kind }) => kind)).toEqual(['withdrawn', 'overstated']);
    expect(back.support.items[0].trouble).toBe('withdrawn by bench: test');
    const later = { ...SEEN, id: 'later', marking: '4T60', corrects: 'seen' };
    const right = await audit(claim, { chips: [chip(1)], observations: [SEEN, later] });
    expect(right.support.items[0].trouble).toBe('corrected by a later observation, later');
  });

  test('a sentence on a sentence that is supported by something withdrawn is reported as well', async () => {
    const view = viewWith(
      [
        { sentence: 'It reads 4T10.', supportedBy: [on('seen')] },
        { sentence: 'So it is old.', supportedBy: ['publication/c1'] },
      ],
      {
        chips: [chip(1)],
        observations: [{ ...SEEN, withdrawn: { by: 'W', on: '2026-01-01T00:00:00Z', reason: 'wrong unit' } }],
      },
    );
    const [, second] = await auditClaims(view);
    expect(second.findings.map(({ kind }) => kind)).toContain('withdrawn');
    expect(second.support.items[0].trouble).toContain('wrong unit');
  });

  test('"every" requires all opened units, or a figure', async () => {
    const second = dossierChange({ device: DEVICE.id, specimen: { id: 'b' } });
    const world = { chips: [chip(1)], more: [second] };
    const claim = { sentence: 'Every Sennit has one.', supportedBy: [on('U1')] };
    const { findings } = await audit(claim, world);
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({
      kind: 'overstated',
      message: expect.stringContaining(`${DEVICE.id}/b`),
    });
    expect(await kinds({ ...claim, supportedBy: [on('U1'), `${DEVICE.id}/b`] }, world)).toEqual([]);
    const counted = { share: { category: 'Accelerometer' }, atLeast: 1 };
    expect(await kinds({ ...claim, figures: [counted] }, world)).toEqual([]);
  });
});

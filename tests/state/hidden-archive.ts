import fc from 'fast-check';
import type { z } from 'zod';
import {
  type Catalogue,
  COLLECTIONS,
  type Collection,
  catalogueSchema,
  recordId,
} from '../../src/model/catalogue.ts';
import type { CorrectionMade } from '../../src/model/correction.ts';
import {
  type Dossier,
  type Identification,
  identificationSchema,
  specimenIdOf,
} from '../../src/model/dossier.ts';
import type { Change } from '../../src/model/entry.ts';
import { BY, dossierOf } from './archive-of.ts';

// Journals in which everything that can be hidden is hidden at some time, and the journals without what readers may not see.
// The latter are worked out here from the steps alone, one thing after the other, by what the README says: it shares nothing
// with the code under test but the records' schemas.

export const HOURS = Array.from({ length: 6 }, (_, hour) => `2027-01-01T0${hour}:00:00.000Z`);
const DEVICES = ['one', 'two', 'three'];
const SPECIMENS = ['a', 'b'];
const PARTS = ['A', 'B', 'C'];

interface Hiding {
  readonly visibility?: 'published' | 'draft' | 'embargoed';
  readonly embargoUntil?: string;
}

const hiding: fc.Arbitrary<Hiding> = fc.oneof(
  { weight: 3, arbitrary: fc.constant({}) },
  { weight: 1, arbitrary: fc.constant({ visibility: 'published' as const }) },
  { weight: 2, arbitrary: fc.constant({ visibility: 'draft' as const }) },
  {
    weight: 2,
    arbitrary: fc.constantFrom(...HOURS).map((embargoUntil) => ({
      visibility: 'embargoed' as const,
      // The same instant in another zone.
      embargoUntil: embargoUntil.replace('T0', 'T1').replace('.000Z', '+10:00'),
    })),
  },
);

type Record_<C extends Collection> = z.infer<(typeof catalogueSchema)['shape'][C]>[number];

export interface Step {
  readonly change: Change;
  /** When it is written. */
  readonly at: string;
}

const put = <C extends keyof Omit<z.input<typeof catalogueSchema>, 'caseback'>>(
  collection: C,
  record: object,
): Change => {
  const read = catalogueSchema.parse({ caseback: 'catalogue/1', [collection]: [record] });
  return { ...BY, kind: 'record-put', payload: { collection, record: read[collection][0] } } as Change;
};

const oneOf = (...ids: readonly string[]) => fc.constantFrom(...ids);
const device = oneOf(...DEVICES);
const specimen = fc.tuple(device, oneOf(...SPECIMENS)).map(([one, of]) => `${one}/${of}`);
const part = oneOf(...PARTS).map((number) => `quistle/${number}`);

const candidate = fc.oneof(
  part.map((id) => ({ part: id })),
  fc.constant({ maker: 'ostrel' }),
  fc.constant({ category: 'PressureSensor', maker: 'ostrel' }),
);
const cites = fc.option(fc.subarray(['paper', 'letter/c', 'letter/d'], { minLength: 1 }), { nil: undefined });
const identification: fc.Arbitrary<Identification> = fc
  .record({
    component: oneOf('U1', 'U2'),
    candidates: fc.uniqueArray(candidate, { minLength: 1, maxLength: 2, selector: JSON.stringify }),
    cites,
    hidden: hiding,
  })
  .map(({ component, candidates, cites: cited, hidden }) =>
    identificationSchema.parse({
      component,
      candidates: candidates.map((one, i) => ({ ...one, probability: i === 0 ? 0.5 : 0.25 })),
      ...(cited ? { cites: cited } : {}),
      ...hidden,
    }),
  );

const change: fc.Arbitrary<Change> = fc.oneof(
  {
    weight: 5,
    arbitrary: fc
      .tuple(specimen, hiding, fc.array(identification, { maxLength: 3 }), fc.option(part), cites)
      .map(([id, hidden, identifications, judged, cited]) => {
        const [of = '', local = ''] = id.split('/');
        return {
          ...BY,
          kind: 'dossier-put' as const,
          payload: dossierOf({
            ...hidden,
            device: of,
            specimen: { id: local },
            boards: [{ id: 'main', kind: 'rigid' }],
            components: [
              { id: 'U1', board: 'main' },
              { id: 'U2', board: 'main' },
            ],
            observations: [
              {
                id: 'o1',
                about: ['U1'],
                kind: 'appearance',
                text: 'seen',
                ...(cited ? { cites: cited } : {}),
              },
            ],
            identifications,
            ...(judged
              ? {
                  judgements: [
                    { component: 'U1', part: judged, decibans: 3, by: 'I. Example', reason: 'so' },
                  ],
                }
              : {}),
          }),
        };
      }),
  },
  {
    weight: 4,
    arbitrary: fc
      .tuple(device, hiding, oneOf('Old', 'New'), fc.subarray(DEVICES), fc.boolean())
      .map(([id, hidden, name, succeeds, inLine]) =>
        put('devices', {
          id,
          name: `${name} ${id}`,
          maker: `maker-${id}`,
          ...(inLine ? { productLine: `line-${id}` } : {}),
          released: '2020',
          bodySite: 'wrist',
          succeeds: succeeds.filter((other) => other !== id),
          ...hidden,
        }),
      ),
  },
  {
    weight: 3,
    arbitrary: fc
      .tuple(oneOf(...PARTS), hiding, oneOf('Accelerometer', 'Microcontroller'), fc.option(oneOf(...PARTS)))
      .map(([number, hidden, category, relabels]) =>
        put('parts', {
          number,
          maker: 'quistle',
          categories: [category],
          ...(relabels && relabels !== number ? { relabels: `quistle/${relabels}` } : {}),
          ...hidden,
        }),
      ),
  },
  {
    weight: 2,
    arbitrary: fc
      .tuple(oneOf('quistle', 'ostrel', ...DEVICES.map((id) => `maker-${id}`)), hiding, oneOf('Old', 'New'))
      .map(([id, hidden, name]) =>
        put('makers', { id, name: `${name} ${id}`, makes: ['parts', 'devices'], ...hidden }),
      ),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(device, hiding)
      .map(([id, hidden]) =>
        put('productLines', { id: `line-${id}`, name: id, maker: `maker-${id}`, ...hidden }),
      ),
  },
  {
    weight: 1,
    arbitrary: hiding.map((hidden) => put('sources', { id: 'paper', kind: 'paper', title: 'P', ...hidden })),
  },
  {
    weight: 1,
    arbitrary: hiding.map((hidden) =>
      put('patterns', {
        id: 'any',
        name: 'A',
        idea: 'I',
        text: 'MATCH (x) RETURN x',
        reasons: ['r'],
        ...hidden,
      }),
    ),
  },
  {
    weight: 3,
    arbitrary: fc
      .tuple(
        hiding,
        fc.array(
          fc.tuple(
            hiding,
            fc.uniqueArray(
              oneOf(
                'one/a/U1',
                'two/b',
                'three',
                'quistle/A',
                'quistle/B',
                'paper',
                'one:any',
                'letter/d',
                'ostrel',
              ),
              { minLength: 1, maxLength: 3 },
            ),
            fc.boolean(),
          ),
          { minLength: 2, maxLength: 2 },
        ),
      )
      .map(([hidden, claims]) =>
        put('publications', {
          id: 'letter',
          kind: 'article',
          title: 'Letter',
          ...hidden,
          claims: claims.map(([mark, supportedBy, counts], i) => ({
            id: ['c', 'd'][i],
            sentence: `So it is ${i}.`,
            supportedBy,
            ...(counts
              ? { figures: [{ count: { part: 'quistle/C' }, where: { maker: 'maker-two' }, atLeast: 1 }] }
              : {}),
            ...mark,
          })),
        }),
      ),
  },
  {
    weight: 2,
    arbitrary: fc.tuple(specimen, oneOf('o2', 'o3'), cites).map(([id, local, cited]) => ({
      ...BY,
      kind: 'observation-recorded' as const,
      payload: {
        specimen: id,
        observation: {
          id: local,
          about: ['U1'],
          kind: 'trace' as const,
          text: 'seen',
          ...(cited ? { cites: cited } : {}),
        },
      },
    })),
  },
  {
    weight: 2,
    arbitrary: fc.tuple(specimen, identification).map(([id, one]) => ({
      ...BY,
      kind: 'identification-set' as const,
      payload: { specimen: id, identification: one },
    })),
  },
  {
    weight: 1,
    arbitrary: device.map((id) => ({
      ...BY,
      kind: 'decision-judged' as const,
      payload: { device: id, pattern: 'any', verdict: 'endorsed' as const, evidence: '' },
    })),
  },
  {
    weight: 2,
    arbitrary: oneOf(
      'one',
      'two',
      'one/a',
      'two/b',
      'quistle/A',
      'letter',
      'paper',
      'any',
      'quistle',
      'correction-x',
    ).map((id) => ({ ...BY, kind: 'recalled' as const, payload: { ids: [id] } })),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(oneOf('one/a', 'two/b', 'quistle/A', 'one'), fc.option(oneOf(...HOURS)), part)
      .map(([subject, embargoUntil, named]) => ({
        ...BY,
        kind: 'correction-made' as const,
        payload: {
          id: 'correction-x',
          summary: 'changed',
          amendment:
            subject.includes('/') && !subject.startsWith('quistle')
              ? {
                  identify: {
                    specimen: subject,
                    ...identificationSchema.parse({
                      component: 'U1',
                      candidates: [{ part: named, probability: 0.9 }],
                    }),
                  },
                }
              : { value: { of: subject, field: 'note', is: 'so' } },
          publications: [
            {
              publication: 'letter',
              title: 'Letter',
              notice: 'We wrote',
              claims: ['letter/c', 'letter/d'].map((claim) => ({
                claim,
                sentence: '',
                before: null,
                after: 0.5,
                findings: [],
              })),
            },
          ],
          ...(embargoUntil ? { visibility: 'embargoed' as const, embargoUntil } : {}),
        } satisfies CorrectionMade,
      })),
  },
);

/** What every journal begins with: all of it published. */
const FIRST: readonly Change[] = [
  put('makers', { id: 'quistle', name: 'Quistle', makes: ['parts'] }),
  put('makers', { id: 'ostrel', name: 'Ostrel', makes: ['parts'] }),
  ...DEVICES.map((id) => put('makers', { id: `maker-${id}`, name: id, makes: ['devices'] })),
  ...DEVICES.map((id) => put('productLines', { id: `line-${id}`, name: id, maker: `maker-${id}` })),
];

/**
 * Steps that a journal could hold, ten minutes after one another: nothing names what was not described before.
 * @param named also in what a later entry may leave out again, such as the support of a claim
 */
export const journalSteps: fc.Arbitrary<readonly Step[]> = fc
  .array(change, { maxLength: 30 })
  .map((drawn) => {
    const known = new Set<string>();
    const isKnown = (id: string) => known.has(id);
    const possible = drawn.flatMap((one): Change[] => {
      switch (one.kind) {
        case 'record-put': {
          const { collection } = one.payload;
          const record = onlyKnown(
            one.payload.record as object,
            isKnown,
            recordId(collection, one.payload.record),
          );
          known.add(recordId(collection, one.payload.record));
          if (collection === 'publications')
            for (const { id } of (record as Record_<'publications'>).claims) known.add(`letter/${id}`);
          return [{ ...one, payload: { collection, record } } as Change];
        }
        case 'dossier-put': {
          const id = specimenIdOf(one.payload);
          if (!isKnown(one.payload.device as string)) return [];
          const payload = onlyKnown(one.payload, isKnown, id);
          known.add(id).add(`${id}/U1`);
          return [{ ...one, payload }];
        }
        case 'identification-set': {
          const identified = onlyKnown(one.payload.identification, isKnown, '');
          if (!isKnown(one.payload.specimen) || identified.candidates.length === 0) return [];
          return [{ ...one, payload: { ...one.payload, identification: identified } }];
        }
        case 'observation-recorded':
          if (!isKnown(one.payload.specimen)) return [];
          return [
            {
              ...one,
              payload: { ...one.payload, observation: onlyKnown(one.payload.observation, isKnown, '') },
            },
          ];
        case 'decision-judged':
          return isKnown(one.payload.device) && isKnown('any') ? [one] : [];
        case 'recalled':
          return one.payload.ids.every(isKnown) ? [one] : [];
        case 'correction-made': {
          const { amendment } = one.payload;
          if (isKnown('correction-x') || !isKnown('letter/d')) return [];
          const about =
            'identify' in amendment
              ? amendment.identify.specimen
              : 'value' in amendment
                ? amendment.value.of
                : '';
          const named =
            'identify' in amendment ? amendment.identify.candidates.flatMap(({ part: id }) => id ?? []) : [];
          if (![about, ...named].every(isKnown)) return [];
          known.add('correction-x');
          return [one];
        }
        default:
          return [one];
      }
    });
    return [...FIRST, ...possible].map((one, i) => ({
      change: one,
      at: new Date(Date.UTC(2027, 0, 1, 0, 10 * Math.max(0, i - FIRST.length + 1))).toISOString(),
    }));
  });

const KINDS_OF_ID = /^(?:one|two|three|letter|paper|any|quistle|ostrel|line-\w+|maker-\w+)(?:[/:].+)?$/u;

/** A record without the references for which something does not hold: what is left is what would have been written instead. */
function onlyKnown<T extends object>(record: T, holds: (id: string) => boolean, own: string): T {
  const kept = (ids: readonly string[] | undefined) =>
    ids?.filter((id) => !KINDS_OF_ID.test(id) || id.split(':').every((one) => one === own || holds(one)));
  const written = { ...record } as Record<string, unknown>;
  const all = written as {
    succeeds?: string[];
    productLine?: string | undefined;
    relabels?: string | undefined;
    cites?: string[] | undefined;
    observations?: object[];
    identifications?: Identification[];
    judgements?: { part: string }[] | undefined;
    candidates?: Identification['candidates'];
    claims?: {
      supportedBy: string[];
      figures?: { count: { part: string }; where: { maker: string } }[];
      id: string;
    }[];
  };
  if (all.succeeds) all.succeeds = kept(all.succeeds) as string[];
  if (all.productLine !== undefined && !holds(all.productLine)) delete all.productLine;
  if (all.relabels !== undefined && !holds(all.relabels)) delete all.relabels;
  if (all.cites) {
    all.cites = kept(all.cites) as string[];
    if (all.cites.length === 0) delete all.cites;
  }
  if (all.observations) all.observations = all.observations.map((one) => onlyKnown(one, holds, own));
  if (all.identifications)
    all.identifications = all.identifications
      .map((one) => onlyKnown(one, holds, own))
      .filter(({ candidates }) => candidates.length > 0);
  if (all.judgements) {
    all.judgements = all.judgements.filter(({ part: id }) => holds(id));
  }
  if (all.candidates)
    all.candidates = all.candidates.flatMap((one) => {
      if (one.part !== undefined && !holds(one.part)) return [];
      if (one.maker === undefined || holds(one.maker)) return [one];
      const { maker: _, ...rest } = one;
      return rest.part === undefined && rest.category === undefined ? [] : [rest];
    });
  if (all.claims)
    all.claims = all.claims.map(({ figures, ...claim }) => {
      const left = figures?.filter(({ count, where }) => holds(count.part) && holds(where.maker));
      const supportedBy = claim.supportedBy.filter((id) =>
        id.split(':').every((one) => one === own || holds(one)),
      );
      return left && left.length > 0 ? { ...claim, supportedBy, figures: left } : { ...claim, supportedBy };
    });
  return written as T;
}

function isOpen({ visibility = 'published', embargoUntil = '' }: Hiding, at: string): boolean {
  return visibility === 'published' || (visibility === 'embargoed' && new Date(embargoUntil) <= new Date(at));
}

interface Version {
  readonly content: Hiding & object;
  readonly added: readonly Change[];
  readonly isRecalled: boolean;
}

/** The versions of a thing, after the steps: the newest, and the one that readers go on seeing beside it. */
interface Versions {
  newest?: Version;
  standing?: Version | undefined;
  /** Step at which the standing one was left behind. */
  left?: number;
}

/** What a reader may see after the steps, at an instant, as the changes of a journal in which the rest never was. */
export function withoutHidden(steps: readonly Step[], now: string): readonly Change[] {
  const things = new Map<string, Versions>();
  const of = (id: string) => {
    const found = things.get(id) ?? {};
    things.set(id, found);
    return found;
  };
  const open = (id: string, at: string) => {
    const { newest, standing } = things.get(id) ?? {};
    if (newest && !newest.isRecalled && isOpen(newest.content, at)) return newest;
    return standing && isOpen(standing.content, at) ? standing : undefined;
  };
  const order: string[] = [];
  const collections = new Map<string, Collection>();
  const judged: Change[] = [];
  let correction:
    | { change: Change & { kind: 'correction-made' }; step: number; isRecalled: boolean }
    | undefined;
  steps.forEach(({ change: one, at }, step) => {
    const file = (id: string, content: object, isSeen: (versions: Versions) => boolean) => {
      const versions = of(id);
      if (!versions.newest) order.push(id);
      const wasSeen = isSeen(versions);
      if (isOpen(content, at)) versions.standing = undefined;
      else if (wasSeen) {
        versions.standing = versions.newest as Version;
        versions.left = step;
      }
      versions.newest = { content, added: versions.newest?.added ?? [], isRecalled: false };
    };
    const byItself = ({ newest }: Versions) =>
      newest !== undefined && !newest.isRecalled && isOpen(newest.content, at);
    switch (one.kind) {
      case 'record-put': {
        const { collection, record } = one.payload;
        const id = recordId(collection, record);
        collections.set(id, collection);
        const throughSpecimen = SPECIMENS.some((local) => open(`${id}/${local}`, at));
        file(
          id,
          record,
          (versions) =>
            byItself(versions) ||
            (collection === 'devices' &&
              versions.newest !== undefined &&
              throughSpecimen &&
              !versions.standing),
        );
        break;
      }
      case 'dossier-put':
        file(specimenIdOf(one.payload), one.payload, byItself);
        break;
      case 'observation-recorded':
      case 'identification-set': {
        const versions = of(one.payload.specimen);
        const newest = versions.newest as Version;
        versions.newest = { ...newest, added: [...newest.added, one] };
        break;
      }
      case 'decision-judged':
        judged.push(one);
        break;
      case 'recalled':
        for (const id of one.payload.ids) {
          if (id === 'correction-x') {
            if (correction) correction.isRecalled = true;
            continue;
          }
          const versions = of(id);
          versions.standing = undefined;
          versions.newest = { ...(versions.newest as Version), isRecalled: true };
        }
        break;
      case 'correction-made':
        correction = { change: one as Change & { kind: 'correction-made' }, step, isRecalled: false };
        break;
      default:
        throw new Error(one.kind);
    }
  });

  const all = (collection: Collection) => order.filter((id) => collections.get(id) === collection);
  const contentOf = (id: string) => open(id, now)?.content;
  const makerOf = (id: string) => (contentOf(id) as { maker: string } | undefined)?.maker ?? '';
  const seen = new Map<string, object>();
  const openMakers = new Set(all('makers').filter(contentOf));
  for (const id of [...openMakers, ...all('sources'), ...all('patterns'), ...all('publications')]) {
    const content = contentOf(id);
    if (content) seen.set(id, content);
  }
  for (const id of [...all('parts'), ...all('productLines')]) {
    const content = contentOf(id);
    if (content && openMakers.has(makerOf(id))) seen.set(id, content);
  }
  const specimens = order.filter((id) => !collections.has(id));
  for (const id of all('devices')) {
    const { newest, standing } = of(id) as { newest: Version; standing?: Version };
    const isGone = newest.isRecalled && !standing;
    const makerNow = (newest.content as { maker: string }).maker;
    const opened = specimens.filter(
      (one) => one.startsWith(`${id}/`) && contentOf(one) && !isGone && openMakers.has(makerNow),
    );
    const content = contentOf(id) ?? (opened.length > 0 ? (standing ?? newest).content : undefined);
    if (!content || !openMakers.has((content as { maker: string }).maker)) continue;
    // Whoever sees a specimen sees its device: then it is as public as the most public of them.
    const marks = opened
      .map((one) => contentOf(one) as Hiding)
      .toSorted((a, b) => String(a.embargoUntil ?? '').localeCompare(String(b.embargoUntil ?? '')));
    const { visibility = 'published', embargoUntil } = marks[0] ?? {};
    const { visibility: _, embargoUntil: __, ...rest } = content as Hiding;
    const shown = { ...rest, visibility, ...(embargoUntil === undefined ? {} : { embargoUntil }) };
    seen.set(id, isOpen(content, now) ? content : shown);
    for (const one of opened) seen.set(one, contentOf(one) as object);
  }
  for (const claim of (seen.get('letter') as Record_<'publications'> | undefined)?.claims ?? [])
    if (isOpen(claim, now)) seen.set(`letter/${claim.id}`, claim);
  const holds = (id: string) =>
    seen.has(id) || (id.split('/').length === 3 && seen.has(id.split('/', 2).join('/')));

  const records = (collection: Collection): readonly Change[] =>
    all(collection).flatMap((id) => {
      const content = seen.get(id) as { claims?: Hiding[] } | undefined;
      if (!content) return [];
      const open_ = content.claims
        ? { ...content, claims: content.claims.filter((one) => isOpen(one, now)) }
        : content;
      const record = onlyKnown(open_, holds, '');
      return [{ ...BY, kind: 'record-put', payload: { collection, record } } as unknown as Change];
    });
  const dossiers = specimens.flatMap((id): readonly Change[] => {
    const content = seen.get(id);
    const version = open(id, now);
    if (!content || !version) return [];
    const filed = content as Dossier;
    const openOnes = (ones: readonly Identification[]) => ones.filter((one) => isOpen(one, now));
    const payload = onlyKnown({ ...filed, identifications: openOnes(filed.identifications) }, holds, '');
    const taken = new Set(filed.identifications.map(said));
    const added = version.added.flatMap((one): readonly Change[] => {
      if (one.kind === 'observation-recorded')
        return [
          { ...one, payload: { ...one.payload, observation: onlyKnown(one.payload.observation, holds, '') } },
        ];
      if (one.kind !== 'identification-set') return [];
      const { identification: set } = one.payload;
      // A file that holds it says who may see it.
      if (!isOpen(set, now) || taken.has(said(set))) return [];
      const left = onlyKnown(set, holds, '');
      return left.candidates.length === 0
        ? []
        : [{ ...one, payload: { ...one.payload, identification: left } }];
    });
    return [{ ...BY, kind: 'dossier-put', payload } as Change, ...added];
  });
  const judgements = judged.filter(
    (one) => one.kind === 'decision-judged' && seen.has(one.payload.device) && seen.has('any'),
  );
  return [
    ...COLLECTIONS.filter((one) => one !== 'publications').flatMap(records),
    ...dossiers,
    ...records('publications'),
    ...judgements,
    ...correctionsSeen(),
  ];

  function correctionsSeen(): readonly Change[] {
    if (!correction || correction.isRecalled) return [];
    const { payload } = correction.change;
    const { amendment } = payload;
    const about =
      'identify' in amendment ? amendment.identify.specimen : 'value' in amendment ? amendment.value.of : '';
    if (!seen.has(about) || !isOpen(payload, now)) return [];
    const { newest, standing, left = 0 } = of(about);
    const seesStanding = standing && open(about, now) !== newest;
    if (seesStanding && correction.step >= left) return [];
    if ('identify' in amendment && !amendment.identify.candidates.every(({ part: id }) => holds(id ?? '')))
      return [];
    const publications = payload.publications.flatMap((one) => {
      const claims = one.claims.filter(({ claim }) => holds(claim));
      if (!seen.has(one.publication) || claims.length === 0) return [];
      return [claims.length === one.claims.length ? one : { ...one, claims, notice: null }];
    });
    return [{ ...correction.change, payload: { ...payload, publications } }];
  }
}

const said = ({ visibility: _, embargoUntil: __, ...rest }: Identification) => JSON.stringify(rest);

export type { Catalogue };

import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { comparisonTable } from '../../src/compare/comparison-table.ts';
import { generations } from '../../src/compare/generations.ts';
import { sightings } from '../../src/compare/line/sightings.ts';
import { partIdOf } from '../../src/model/catalogue.ts';
import { TERMS } from '../../src/model/taxonomy.ts';
import { findPattern } from '../../src/patterns/find.ts';
import { patternVerdicts } from '../../src/patterns/verdict.ts';
import {
  type ArchivePresence,
  partsAndMakers,
  presenceOf,
  presenceRow,
  specimenPresence,
  thingOf,
} from '../../src/presence/presence.ts';
import type { State } from '../../src/state/state.ts';
import { deviceWeights } from '../../src/trends/subject.ts';
import { trend } from '../../src/trends/trends.ts';
import { type Served, serve } from '../service/serving.ts';
import { demo, generated } from './archives.ts';

// One question, asked of every surface that answers it: does this device have X? All must agree for every term of the
// taxonomy, every part and every maker of parts.

const ARCHIVES: Readonly<Record<string, () => Promise<Archive>>> = {
  'the demo archive': demo,
  'a generated archive': () => generated(1),
  'another generated archive': () => generated(2),
};

interface Answers {
  /** Devices that certainly have it, and those that certainly or possibly have it, by id. */
  readonly certain: readonly string[];
  readonly possible: readonly string[];
}

describe.each(Object.entries(ARCHIVES))('%s', (_, make) => {
  let archive: Archive;
  let served: Served;
  let view: State;
  let presence: ArchivePresence;
  let parts: readonly string[];
  let makers: readonly string[];
  beforeAll(async () => {
    archive = await make();
    served = await serve({}, archive);
    view = archive.state('reader');
    presence = await presenceOf(view);
    parts = view.parts().map(partIdOf);
    makers = view
      .makers()
      .filter(({ makes }) => makes.includes('parts'))
      .map(({ id }) => id);
  });
  afterAll(() => served.close());

  /** What presence says of all devices. */
  function said(name: string): Answers {
    const all = [...presence.of(name)].sort(([a], [b]) => (a < b ? -1 : 1));
    return {
      certain: all.filter(([, { verdict }]) => verdict === 'CERTAIN').map(([id]) => id),
      possible: all.filter(([, { probability }]) => probability >= 0.05).map(([id]) => id),
    };
  }

  async function found(text: string): Promise<Answers & { readonly odds: Readonly<Record<string, number>> }> {
    const { devices } = await findPattern(view, { text });
    return {
      certain: devices.filter(({ certain }) => certain).map(({ deviceId }) => deviceId),
      possible: devices.map(({ deviceId }) => deviceId),
      odds: Object.fromEntries(devices.map(({ deviceId, probability }) => [deviceId, probability])),
    };
  }

  const oddsOf = (name: string) =>
    Object.fromEntries(
      [...presence.of(name)]
        .filter(([, { probability }]) => probability >= 0.05)
        .map(([id, { probability }]) => [id, expect.closeTo(probability, 8)]),
    );

  test('patterns find the same devices with the same probability: every term', async () => {
    for (const term of TERMS) {
      const answer = await found(`MATCH (x:${term}) RETURN x`);
      expect([term, answer]).toEqual([term, { ...said(term), odds: oddsOf(term) }]);
    }
  });

  test('patterns find the same devices with the same probability: every part', async () => {
    for (const part of parts) {
      const [maker, number] = part.split('/');
      const text = `MATCH (x)-[:IDENTIFIED_AS]->(p:Part {maker: '${maker}', number: '${number}'}) RETURN x`;
      expect([part, await found(text)]).toEqual([part, { ...said(part), odds: oddsOf(part) }]);
    }
  });

  test('verdicts of patterns are those of presence: every term', async () => {
    for (const term of TERMS) {
      const { verdicts } = await patternVerdicts(view, { text: `MATCH (x:${term}) RETURN x` });
      const told = Object.fromEntries([...verdicts].map(([id, { verdict }]) => [id, verdict]));
      const expected = Object.fromEntries(
        view.devices().map(({ id }) => [id, presence.device(id, thingOf(view, term)).verdict]),
      );
      expect([term, told]).toEqual([term, expected]);
    }
  });

  test('lists of devices, by GraphQL', async () => {
    const idsOf = async (filter: object) => {
      const { devices } = await served.ask(
        'query ($filter: DeviceFilter) { devices(first: 200, filter: $filter) { nodes { id } } }',
        { filter },
      );
      return devices.nodes.map(({ id }: { id: string }) => id).sort();
    };
    for (const term of TERMS)
      expect([term, await idsOf({ hasCategory: term })]).toEqual([term, said(term).possible]);
    for (const part of parts)
      expect([part, await idsOf({ hasPart: part })]).toEqual([part, said(part).possible]);
  });

  test('patterns and trends, by GraphQL', async () => {
    for (const term of TERMS) {
      const { findPattern: pattern, trend: share } = await served.ask(
        `query ($text: String!, $of: TrendMeasure!) {
          findPattern(text: $text, first: 200) { totalCount certainCount nodes { device { id } isCertain } }
          trend(of: $of) { total { total { n devices notObserved absent certain possible } } }
        }`,
        { text: `MATCH (x:${term}) RETURN x`, of: { share: { category: term } } },
      );
      const { certain, possible } = said(term);
      expect([term, pattern.totalCount, pattern.certainCount]).toEqual([
        term,
        possible.length,
        certain.length,
      ]);
      const verdicts = [...presence.of(term).values()].map(({ verdict }) => verdict);
      const unseen = [...view.devices()].length - verdicts.length;
      const count = (verdict: string) => verdicts.filter((one) => one === verdict).length;
      expect([term, share.total.total]).toEqual([
        term,
        {
          devices: [...view.devices()].length,
          n: count('CERTAIN') + count('POSSIBLE') + count('ABSENT'),
          notObserved: count('NOT_OBSERVED') + unseen,
          absent: count('ABSENT'),
          certain: certain.length,
          possible: possible.length,
        },
      ]);
    }
  });

  test('a device and its specimens, by GraphQL', async () => {
    const fields = TERMS.map(
      (term) => `${term}: presence(of: {category: "${term}"}) { verdict probability certain }`,
    );
    for (const { id } of view.devices()) {
      const { device } = await served.ask(
        `{ device(id: "${id}") { ${fields.slice(0, 60).join(' ')} specimens { id ${fields.slice(0, 20).join(' ')} } } }`,
      );
      for (const term of TERMS.slice(0, 60)) {
        const { verdict, probability, certain } = presence.device(id, thingOf(view, term));
        expect([id, term, device[term]]).toEqual([id, term, { verdict, probability, certain }]);
      }
      for (const specimen of device.specimens) {
        const row = view.specimenRow(specimen.id);
        if (!row) throw new Error(`specimen ${specimen.id} is there`);
        for (const term of TERMS.slice(0, 20)) {
          const { verdict } = specimenPresence(presenceRow(view, row), thingOf(view, term));
          expect([specimen.id, term, specimen[term].verdict]).toEqual([specimen.id, term, verdict]);
        }
      }
    }
  });

  test('trends of parts and makers, and of the pattern of a term as text', async () => {
    const weighed = async (subject: Parameters<typeof deviceWeights>[1]) => {
      const weights = await deviceWeights(view, subject);
      const all = [...weights].sort(([a], [b]) => (a < b ? -1 : 1));
      return {
        certain: all.filter(([, { certain }]) => certain).map(([id]) => id),
        possible: all.filter(([, { verdict }]) => verdict !== 'ABSENT').map(([id]) => id),
      };
    };
    for (const part of parts) expect([part, await weighed({ part })]).toEqual([part, said(part)]);
    for (const maker of makers) expect([maker, await weighed({ maker })]).toEqual([maker, said(maker)]);
    for (const term of TERMS) {
      expect([term, await weighed({ text: `MATCH (x:${term}) RETURN x` })]).toEqual([term, said(term)]);
    }
  });

  test('product lines: parts and makers from the first device to the last', async () => {
    for (const { id } of view.productLines()) {
      const { generations: line } = generations(view, id);
      const along = line.map(({ device }) => partsAndMakers(view, device));
      for (const of of ['parts', 'makers'] as const) {
        for (const one of sightings(line, along, (each) => each[of])) {
          const all = line.map(({ device }) => presence.device(device.id, thingOf(view, one.id)));
          expect([id, one.id, one.certain, one.possible]).toEqual([
            id,
            one.id,
            all.filter(({ verdict }) => verdict === 'CERTAIN').length,
            all.filter(({ probability }) => probability >= 0.05).length,
          ]);
        }
      }
    }
  });

  test('comparisons: counts of a kind, none seen and not observed', async () => {
    const ids = [...view.specimenRows()].map(({ id }) => id).slice(0, 30);
    const { columns, sections } = await comparisonTable(view, ids, {
      sections: ['sensors', 'processors', 'radio', 'memory', 'power', 'battery', 'reuse'],
    });
    let looked = 0;
    for (const { key, label, cells } of sections.flatMap(({ rows }) => rows)) {
      const name = key.startsWith('reuse.part.') ? label : (key.split('.')[1] as string);
      if (!(TERMS.includes(name) || parts.includes(name))) continue;
      cells.forEach((cell, at) => {
        const row = view.specimenRow(columns[at].specimen.id);
        if (!row) throw new Error('the specimen is there');
        const { verdict, certain, expected, possible } = specimenPresence(
          presenceRow(view, row),
          thingOf(view, name),
        );
        looked++;
        const place = [key, columns[at].specimen.id];
        if (verdict === 'ABSENT') expect([...place, cell.missing]).toEqual([...place, 'absent']);
        else if (verdict === 'NOT_OBSERVED')
          expect([...place, cell.missing]).toEqual([...place, 'not-observed']);
        else
          expect([...place, cell]).toMatchObject([...place, { certain, expected, possible, missing: null }]);
      });
    }
    expect(looked).toBeGreaterThan(500);
  });

  test('first adopters are among those that have it, the certain ones certain', async () => {
    for (const term of TERMS) {
      const { firstAdopters } = await trend(view, { of: { share: { category: term } } });
      const { certain, possible } = said(term);
      for (const { device, certain: sure } of firstAdopters) {
        expect([term, possible.includes(device.id), certain.includes(device.id)]).toEqual([term, true, sure]);
      }
      expect([term, firstAdopters.length > 0]).toEqual([term, possible.length > 0]);
    }
  });
});

test('the archives have something of every verdict', async () => {
  for (const make of Object.values(ARCHIVES)) {
    const archive = await make();
    const presence = await presenceOf(archive.state('reader'));
    const verdicts = new Set(
      TERMS.flatMap((term) => [...presence.of(term).values()].map(({ verdict }) => verdict)),
    );
    expect([...verdicts].sort()).toEqual(['ABSENT', 'CERTAIN', 'NOT_OBSERVED', 'POSSIBLE']);
    await archive.close();
  }
});

import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { type Dossier, specimenIdOf } from '../../src/model/dossier.ts';
import { pinOf } from '../../src/model/ids.ts';
import { SHEETS, written } from './nets/files.ts';
import { dossierOf, dossiers, seenIn } from './seed.ts';

// Nets of the demo archive: what the sheets write, and what holds on any board (common practice, no source).

const folder = fileURLToPath(new URL('../../seed-data/', import.meta.url));
const withNets = dossiers.filter(({ nets = [] }) => nets.length > 0);

/** Nets of a component, by id of the component. */
function netsBy({ nets = [] }: Dossier): ReadonlyMap<string, ReadonlySet<string>> {
  const by = new Map<string, Set<string>>();
  for (const { id, pins } of nets)
    for (const pin of pins) {
      const { component } = pinOf(pin);
      by.set(component, (by.get(component) ?? new Set()).add(id));
    }
  return by;
}

describe('nets of the demo archive', () => {
  test('are what the sheets write, with the pins of the parts', () => {
    const names = ['parts', 'dossiers'].flatMap((sub) =>
      readdirSync(folder + sub)
        .filter((name) => name.endsWith('.yaml'))
        .map((name) => `${sub}/${name}`),
    );
    const texts = new Map(names.map((name) => [name, readFileSync(folder + name, 'utf8')]));
    for (const [name, text] of written(texts)) expect(text, name).toBe(texts.get(name));
    expect(withNets.length).toBe(SHEETS.size);
  });

  test('each rests on an observation, and on X-rays or probes', () => {
    for (const { nets = [], observations, ...rest } of withNets) {
      const kinds = new Map(observations.map(({ id, kind }) => [id, kind]));
      for (const { id, basis } of nets) {
        const found = basis.map((one) => kinds.get(one));
        expect(
          found.some((kind) => kind === 'x-ray' || kind === 'probe'),
          `${specimenIdOf(rest)} ${id}`,
        ).toBe(true);
      }
    }
  });

  test('some are whole and some are not, in every specimen', () => {
    for (const dossier of withNets) {
      const whole = dossier.nets?.filter(({ complete }) => complete).length ?? 0;
      expect(whole, specimenIdOf(dossier)).toBeGreaterThan(0);
      expect(whole, specimenIdOf(dossier)).toBeLessThan(dossier.nets?.length ?? 0);
    }
  });

  test('agree with what was traced: its two ends are on one net, or on nets that passives and mated connectors join', () => {
    const apart = withNets.flatMap((dossier) => {
      const seen = seenIn(dossier);
      const by = netsBy(dossier);
      // Nets but ground, joined where a passive has one end on each.
      const grounds = new Set(dossier.nets?.flatMap(({ id, kind }) => (kind === 'ground' ? [id] : [])));
      const next = new Map<string, string[]>();
      for (const [id, nets] of by) {
        if (!seen.get(id)?.is('Passive')) continue;
        for (const net of nets) next.set(net, [...(next.get(net) ?? []), ...nets]);
      }
      for (const { between, pins = [] } of dossier.connections) {
        for (const pair of pins) {
          const met = dossier.nets?.filter((net) =>
            between.some((id, at) => net.pins.includes(`${id}.${pair[at]}`)),
          );
          for (const net of met ?? [])
            next.set(net.id, [...(next.get(net.id) ?? []), ...(met ?? []).map(({ id }) => id)]);
        }
      }
      return dossier.connections.flatMap(({ between, medium, bus }) => {
        const [a, b] = between.map((id) => [...(by.get(id) ?? [])].filter((net) => !grounds.has(net)));
        const mated = between.every((id) => seen.get(id)?.is('Connector'));
        // What has no pads has no nets: lids, light, the strap.
        if (medium === 'optical-path' || mated || a.length === 0 || b.length === 0) return [];
        const reached = new Set(a);
        for (const net of reached)
          for (const one of next.get(net) ?? []) if (!grounds.has(one)) reached.add(one);
        return b.some((net) => reached.has(net))
          ? []
          : [`${specimenIdOf(dossier)} ${between.join('-')} ${bus}`];
      });
    });
    // On purpose: what showed this one was corrected by a probe.
    expect(apart).toEqual(['dunmarrow-leadline-3/a BT1-U17 power']);
    const { observations, connections } = dossierOf('dunmarrow-leadline-3/a');
    const traced = connections.find(({ between }) => between.join() === 'BT1,U17');
    const later = observations.find(({ corrects }) => corrects === traced?.basis[0]);
    expect(later?.kind).toBe('probe');
  });

  test('of one specimen two hundred components are known, holes, marks, pads and empty places not counted', () => {
    const seen = [...seenIn(dossierOf('dunmarrow-leadline-3/a')).values()];
    const real = seen.filter(({ component, is }) => component.fitted !== false && !is('BoardFeature'));
    expect(real.length).toBe(200);
  });

  test('boards have what boards have: arcs, a hole, a piece to break off, one designator on two boards, empty places', () => {
    const outlines = withNets.flatMap(({ boards }) => boards.flatMap(({ outline }) => outline ?? []));
    const shaped = outlines.filter((outline) => 'points' in outline);
    expect(shaped.some(({ points }) => points.some((corner) => !Array.isArray(corner)))).toBe(true);
    expect(shaped.some(({ holes = [] }) => holes.length > 0)).toBe(true);
    expect(shaped.some(({ breakaway = [] }) => breakaway.length > 0)).toBe(true);
    const all = withNets.flatMap(({ components }) => components);
    expect(all.some(({ id }) => id === 'sense:C1') && all.some(({ id }) => id === 'main:C1')).toBe(true);
    expect(all.filter(({ fitted }) => fitted === false).length).toBeGreaterThan(3);
    for (const letters of ['SW', 'LED', 'FB', 'TP', 'ANT', 'FID', 'MH', 'JP', 'F'])
      expect(
        all.some(({ id }) => new RegExp(`^(.*:)?${letters}\\d`, 'u').test(id)),
        letters,
      ).toBe(true);
    for (const term of [
      'MountingHole',
      'Fiducial',
      'TestPad',
      'SolderBridge',
      'FerriteBead',
      'Inductor',
      'Fuse',
    ])
      expect(
        all.some(({ appears }) => appears === term),
        term,
      ).toBe(true);
  });

  test('every chip on nets has a supply and ground, where its pins are known', () => {
    const bare = withNets.flatMap((dossier) => {
      const kinds = new Map(dossier.nets?.map(({ id, kind }) => [id, kind]));
      const by = netsBy(dossier);
      return [...seenIn(dossier)].flatMap(([id, { is }]) => {
        if (!is('Processor', 'Radio', 'Memory', 'Accelerometer', 'AnalogueFrontEnd', 'PressureSensor'))
          return [];
        const own = new Set([...(by.get(id) ?? [])].map((net) => kinds.get(net)));
        return own.has('power') && own.has('ground') ? [] : [`${specimenIdOf(dossier)} ${id}`];
      });
    });
    expect(bare).toEqual([]);
  });

  test('a rail has one voltage on both sides of a ferrite bead', () => {
    const stepped = withNets.flatMap((dossier) => {
      const volts = new Map(
        dossier.nets?.map(({ id, kind, voltage }) => [id, kind === 'power' && voltage?.value]),
      );
      const by = netsBy(dossier);
      return [...seenIn(dossier)].flatMap(([id, { is }]) => {
        if (!is('FerriteBead')) return [];
        const values = new Set([...(by.get(id) ?? [])].map((net) => volts.get(net)));
        return values.size === 1 ? [] : [`${specimenIdOf(dossier)} ${id}`];
      });
    });
    expect(stepped).toEqual([]);
  });
});

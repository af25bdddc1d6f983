import { describe, expect, test } from 'vitest';
import { deviceIdOf, specimenIdOf } from '../../src/model/dossier.ts';
import { isCertain, parseMarking } from '../../src/model/marking.ts';
import { catalogue, devices, dossierOf, dossiers, parts, seenIn } from './seed.ts';

// The awkward truths of the trade that the demo archive promises, one test each.

describe('awkward truths', () => {
  test('two specimens of one model hold different chips', () => {
    const [a, b] = ['tarn-sennit-3/a', 'tarn-sennit-3/b'].map(dossierOf);
    expect(deviceIdOf(a)).toBe(deviceIdOf(b));
    expect(a.specimen.revision).not.toBe(b.specimen.revision);
    const makerOf = (dossier: typeof a, id: string) =>
      parts.get(seenIn(dossier).get(id)?.identification?.candidates[0].part ?? '')?.maker;
    expect(makerOf(a, 'U2')).toBe('quistle');
    expect(makerOf(b, 'U2')).toBe('vantrill');
    expect(makerOf(a, 'U4')).not.toBe(makerOf(b, 'U4'));
  });

  test('modules hold several dies', () => {
    const modules = dossiers.flatMap((dossier) =>
      dossier.components
        .map(({ id }) => dossier.components.filter(({ inside }) => inside === id).length)
        .filter((dies) => dies >= 3),
    );
    expect(modules.length).toBeGreaterThanOrEqual(3);
    const labels = seenIn(dossierOf('dunmarrow-leadline-5/a')).get('U1')?.labels;
    expect(labels?.get('Module')).toBeGreaterThanOrEqual(0.95);
  });

  test('a misread marking was corrected, and the identification follows the second reading', () => {
    const dossier = dossierOf('sallowby-keelson-3/a');
    const later = dossier.observations.find(({ corrects }) => corrects !== undefined);
    const earlier = dossier.observations.find(({ id }) => id === later?.corrects);
    expect(earlier?.marking).toBe('4T10\n903');
    expect(later?.marking).toBe('4T1[60]\n90?');
    const judged = dossier.identifications.filter(({ component }) => component === 'U3');
    expect(judged.map(({ state }) => state)).toEqual(['withdrawn', 'favoured']);
    expect(judged[0].basis).toContain(earlier?.id);
    expect(judged[1].basis).toContain(later?.id);
    expect(judged[1].candidates[0].part).toBe('quistle/QWR4T16');
  });

  test('a publication is still supported by the reading that was corrected', () => {
    const resting = catalogue.publications.filter(({ claims }) =>
      claims.some(({ supportedBy }) => supportedBy.includes('sallowby-keelson-3/a/o2')),
    );
    expect(resting.map(({ id }) => id)).toEqual(['bench-letter-31']);
  });

  test('parts are sold under the label of another maker, with the same figures, and are found in devices', () => {
    const relabelled = catalogue.parts.filter(({ relabels }) => relabels !== undefined);
    expect(relabelled.length).toBeGreaterThanOrEqual(2);
    for (const { maker, relabels, parameters, body } of relabelled) {
      const original = parts.get(relabels ?? '');
      expect(original?.maker).not.toBe(maker);
      expect(parameters).toEqual(original?.parameters);
      expect(body).toEqual(original?.body);
    }
    const found = dossiers.flatMap(({ identifications }) =>
      identifications.filter(({ candidates }) => parts.get(candidates[0].part ?? '')?.relabels),
    );
    expect(found.length).toBeGreaterThanOrEqual(2);
  });

  test('two devices without product line, predecessor or successor', () => {
    const succeeded = new Set([...devices.values()].flatMap(({ succeeds }) => succeeds));
    const alone = [...devices.values()].filter(
      ({ id, productLine, succeeds }) => !productLine && succeeds.length === 0 && !succeeded.has(id),
    );
    expect(alone.map(({ id }) => id)).toEqual(['nolvey-collet', 'sallowby-escutcheon']);
  });

  test('a product line splits, and another merges', () => {
    const followers = new Map<string, number>();
    for (const { succeeds } of devices.values())
      for (const id of succeeds) followers.set(id, (followers.get(id) ?? 0) + 1);
    expect(followers.get('tarn-sennit-3')).toBe(2);
    expect(devices.get('dunmarrow-leadline-4')?.succeeds.length).toBe(2);
  });

  test('a draft and an embargoed device are in the archive, and no published device or publication names them', () => {
    const hidden = dossiers.filter(({ visibility }) => visibility !== 'published');
    expect(hidden.map(({ visibility }) => visibility).sort()).toEqual(['draft', 'embargoed']);
    expect(hidden.find(({ embargoUntil }) => embargoUntil)?.embargoUntil).toMatch(/^2027-/u);
    const ids = hidden.map(deviceIdOf);
    const named = (id: string) => ids.some((one) => id === one || id.startsWith(`${one}/`));
    for (const { device, visibility } of dossiers) {
      if (typeof device === 'object' && visibility === 'published')
        expect(device.succeeds.filter(named)).toEqual([]);
    }
    for (const { visibility, claims } of catalogue.publications) {
      if (visibility !== 'embargoed')
        expect(claims.flatMap(({ supportedBy }) => supportedBy).filter(named)).toEqual([]);
    }
    expect(
      catalogue.publications.some(({ claims }) => claims.some(({ supportedBy }) => supportedBy.some(named))),
    ).toBe(true);
  });

  test('a specimen was damaged in opening', () => {
    const damaged = dossiers.filter(({ specimen }) => specimen.condition === 'damaged-in-opening');
    expect(damaged.map(specimenIdOf)).toEqual(['pellforth-conch-3/a']);
    expect(damaged[0].observations.some(({ kind }) => kind === 'condition')).toBe(true);
  });

  test('markings are worn, with unread characters and characters that may be two', () => {
    const markings = dossiers.flatMap(({ components }) => components.flatMap(({ marking }) => marking ?? []));
    const doubtful = markings.filter((marking) => !isCertain(parseMarking(marking)));
    expect(doubtful.filter((marking) => marking.includes('?')).length).toBeGreaterThanOrEqual(8);
    expect(doubtful.filter((marking) => marking.includes('[8B]')).length).toBeGreaterThanOrEqual(2);
  });

  test('some chips are known by kind only, some have rivals, some are not named at all', () => {
    const chips = dossiers.flatMap((dossier) => [...seenIn(dossier).values()]);
    const candidates = chips.map(({ identification }) => identification?.candidates ?? []);
    expect(candidates.filter((rivals) => rivals.length >= 2).length).toBeGreaterThanOrEqual(12);
    const kindOnly = candidates.filter((rivals) => rivals.length > 0 && rivals.every(({ part }) => !part));
    expect(kindOnly.length).toBeGreaterThanOrEqual(8);
    const unnamed = chips.filter(
      ({ component, identification }) => !identification && !component.appears && component.marking,
    );
    expect(unnamed.length).toBeGreaterThanOrEqual(1);
  });

  test('some claims say too much and some too little, each with a note that says so', () => {
    const notes = catalogue.publications.flatMap(({ claims }) => claims.flatMap(({ note }) => note ?? []));
    expect(notes.filter((note) => note.startsWith('Overstated')).length).toBeGreaterThanOrEqual(3);
    expect(notes.filter((note) => note.startsWith('Understated')).length).toBeGreaterThanOrEqual(2);
  });

  test('a figure claims what the archive contradicts', () => {
    const wrist = dossiers.filter(
      ({ device }) => typeof device === 'object' && device.bodySite === 'wrist' && device.released >= '2016',
    );
    const without = wrist.filter((one) => ![...seenIn(one).values()].some(({ is }) => is('PressureSensor')));
    expect(without.map(deviceIdOf).sort()).toEqual(['tarn-gnomon-1', 'tarn-sennit-slim']);
  });
});

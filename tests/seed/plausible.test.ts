import { describe, expect, test } from 'vitest';
import { certainlyBefore } from '../../src/model/dates.ts';
import { type Dossier, specimenIdOf } from '../../src/model/dossier.ts';
import { isCertain, parseMarking } from '../../src/model/marking.ts';
import { deviceOf, dossiers, figure, type Seen, seenIn, settledPart } from './seed.ts';

// What a design engineer would look at first. Rules of the trade; common practice, no source.

/** Components reached from one over connections that `follow` lets through. */
function reached(
  { connections }: Dossier,
  from: string,
  follow: (connection: Dossier['connections'][number]) => boolean,
): ReadonlySet<string> {
  const found = new Set([from]);
  for (const at of found) {
    for (const connection of connections) {
      const [a, b] = connection.between;
      if (!follow(connection)) continue;
      if (a === at) found.add(b);
      if (b === at) found.add(a);
    }
  }
  return found;
}

const all = dossiers.map((dossier) => ({ dossier, id: specimenIdOf(dossier), seen: seenIn(dossier) }));

function each(
  look: (one: {
    dossier: Dossier;
    seen: ReadonlyMap<string, Seen>;
    component: Seen;
  }) => string | false | undefined,
): string[] {
  return all.flatMap(({ dossier, id, seen }) =>
    [...seen.values()].flatMap((component) => {
      const trouble = look({ dossier, seen, component });
      return trouble ? [`${id}/${component.component.id}: ${trouble}`] : [];
    }),
  );
}

describe('engineering of the demo devices', () => {
  test('every processor of a published device is fed', () => {
    const unfed = each(({ dossier, component }) => {
      if (dossier.visibility !== 'published' || !component.is('Processor')) return;
      if (component.component.inside) return;
      return (
        !dossier.connections.some(
          ({ between, bus }) => bus === 'power' && between.includes(component.component.id),
        ) && 'no supply'
      );
    });
    expect(unfed).toEqual([]);
  });

  test('every switching converter has a coil within 6 mm on its board', () => {
    const bare = each(({ seen, component }) => {
      const { at, board } = component.component;
      if (!at || !component.is('BuckConverter', 'BoostConverter', 'BuckBoostConverter')) return;
      const near = [...seen.values()].some(
        (other) =>
          other.is('Inductor') &&
          other.component.board === board &&
          other.component.at &&
          Math.hypot(other.component.at.x - at.x, other.component.at.y - at.y) <= 6,
      );
      return !near && 'no coil';
    });
    expect(bare).toEqual([]);
  });

  test('every radio ends at an antenna, except near-field ones and specimens not fully open', () => {
    const mute = each(({ dossier, seen, component }) => {
      if (dossier.visibility !== 'published' || !component.is('Radio') || component.is('NearFieldRadio'))
        return;
      // The radio path may cross a connector pair between two boards.
      const joined = reached(
        dossier,
        component.component.id,
        ({ between, bus, medium }) =>
          bus === 'rf' ||
          (['flex', 'contact'].includes(medium) && between.every((end) => seen.get(end)?.is('Connector'))),
      );
      return ![...joined].some((id) => seen.get(id)?.is('Antenna')) && 'no antenna';
    });
    expect(mute).toEqual([]);
  });

  test('every accelerometer, pressure sensor and front end is connected to a processor, directly or over connectors', () => {
    const lonely = each(({ dossier, seen, component }) => {
      if (component.is('Processor') || component.component.inside) return;
      if (!component.is('Accelerometer', 'PressureSensor', 'AnalogueFrontEnd')) return;
      const joined = reached(dossier, component.component.id, ({ between, bus, medium }) => {
        if (bus === 'power') return false;
        // Go on through connectors only.
        const through = between.some((end) => seen.get(end)?.is('Connector'));
        return between.includes(component.component.id) || through || medium === 'flex';
      });
      return ![...joined].some((id) => seen.get(id)?.is('Processor')) && 'no processor';
    });
    expect(lonely).toEqual([]);
  });

  test('flex joins two boards, or a board and something off the boards', () => {
    const odd = all.flatMap(({ dossier, id, seen }) =>
      dossier.connections.flatMap(({ between, medium }) => {
        const [a, b] = between.map((end) => seen.get(end)?.component.board);
        return medium === 'flex' && a === b && a !== undefined && !displayOnItsFlex(seen, between)
          ? [`${id}: ${between.join('–')}`]
          : [];
      }),
    );
    expect(odd).toEqual([]);
  });

  test('no part is younger than its device, and none was bought after its last delivery', () => {
    const wrong = each(({ dossier, component }) => {
      const part = settledPart(component.identification);
      const { released } = deviceOf(dossier);
      if (!part) return;
      if (part.introduced && certainlyBefore(released, part.introduced)) {
        // The second specimen is of a later revision.
        const { bought } = dossier.specimen;
        if (!bought || certainlyBefore(bought, part.introduced)) return `introduced ${part.introduced}`;
      }
      return (
        part.discontinued !== undefined && certainlyBefore(part.discontinued, released) && 'discontinued'
      );
    });
    expect(wrong).toEqual([]);
  });

  test('the clear marking of a settled chip is known to its catalogue entry', () => {
    const wrong = each(({ component: { component, identification } }) => {
      const part = settledPart(identification);
      if (!part || component.marking === undefined || !isCertain(parseMarking(component.marking))) return;
      const known = part.markings.some((template) => templatePattern(template).test(component.marking ?? ''));
      return !known && `${component.marking} is no marking of ${part.number}`;
    });
    expect(wrong).toEqual([]);
  });

  test('measured bodies agree with the settled part to a tenth of a millimetre', () => {
    const wrong = each(({ component: { component, identification } }) => {
      const part = settledPart(identification);
      if (!part?.body || !component.body) return;
      const off = Math.max(
        Math.abs(part.body.length - component.body.length),
        Math.abs(part.body.width - component.body.width),
      );
      return off > 0.1 && `off by ${off.toFixed(2)} mm`;
    });
    expect(wrong).toEqual([]);
  });

  test('no two bodies on one side of a board overlap', () => {
    const overlaps = all.flatMap(({ dossier, id }) => {
      const placed = dossier.components.flatMap((component) => {
        const { at, body, board, side, inside, appears, rotation = 0 } = component;
        if (!at || !body || inside || appears === 'OpticalBarrier' || appears === 'Shield') return [];
        const turned = rotation % 180 === 90;
        const half = [turned ? body.width : body.length, turned ? body.length : body.width].map(
          (one) => one / 2,
        );
        return [{ name: component.id, place: `${board} ${side}`, at, half }];
      });
      return placed.flatMap((a, index) =>
        placed.slice(index + 1).flatMap((b) => {
          if (a.place !== b.place) return [];
          const gap = Math.max(
            Math.abs(a.at.x - b.at.x) - a.half[0] - b.half[0],
            Math.abs(a.at.y - b.at.y) - a.half[1] - b.half[1],
          );
          // Positions are read to a twentieth of a millimetre.
          return gap < -0.05 ? [`${id}: ${a.name}, ${b.name}`] : [];
        }),
      );
    });
    expect(overlaps).toEqual([]);
  });

  test('a regulator with one output feeds only parts whose supply range holds its voltage', () => {
    const wrong = each(({ dossier, seen, component }) => {
      const regulator = settledPart(component.identification);
      if (!regulator || !component.is('Regulator') || component.is('PowerManagement')) return;
      const voltage = figure(regulator, 'outputVoltage', 'V');
      if (voltage === undefined) return;
      for (const { between, bus } of dossier.connections) {
        const { id } = component.component;
        if (bus !== 'power' || !between.includes(id)) continue;
        const load = seen.get(between[0] === id ? between[1] : between[0]);
        // Panels and their drivers have a rail beside that of their logic; the others are what feeds the regulator.
        if (!load || load.is('Display', 'DisplayDriver', 'Battery', 'Charger', 'Regulator', 'LoadSwitch'))
          continue;
        const part = settledPart(load.identification);
        const [low, high] = [figure(part, 'supplyMin', 'V'), figure(part, 'supplyMax', 'V')];
        if ((low ?? voltage) > voltage || (high ?? voltage) < voltage)
          return `${regulator.number} gives ${voltage} V, ${part?.number} takes ${low} to ${high} V`;
      }
      return;
    });
    expect(wrong).toEqual([]);
  });

  test('a 1.8 V or 3 V regulator is fed from a cell with a voltage above its output for most of its charge', () => {
    const wrong = each(({ seen, component }) => {
      const part = settledPart(component.identification);
      if (!part?.categories.includes('LinearRegulator') || part.categories.length > 1) return;
      const cell = [...seen.values()].find(
        (other) => other.is('Battery') && other.identification?.candidates[0].part,
      );
      const voltage = cell && figure(settledPart(cell.identification), 'outputVoltage', 'V');
      const output = figure(part, 'outputVoltage', 'V');
      if (voltage === undefined || output === undefined) return;
      return voltage <= output && 'cell below output';
    });
    expect(wrong).toEqual([]);
  });
});

function displayOnItsFlex(seen: ReadonlyMap<string, Seen>, between: readonly string[]): boolean {
  return between.some((end) => seen.get(end)?.is('Display'));
}

/** A marking template as a regular expression: free characters for lots, digits for dates. */
function templatePattern(template: string): RegExp {
  const written = template
    .split(/(\{[^}]*\})/u)
    .map((publication) => {
      const lot = /^\{lot:(\d+)\}$/u.exec(publication);
      if (lot) return `[A-Z0-9]{${lot[1]}}`;
      const date = /^\{date:([YWMD]+)\}$/u.exec(publication);
      return date ? `\\d{${date[1].length}}` : publication.replace(/[.*+?^${}()|[\]\\]/gu, '\\$&');
    })
    .join('');
  return new RegExp(`^${written}$`, 'u');
}

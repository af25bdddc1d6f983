import { type Part, partIdOf } from '../../model/catalogue.ts';
import type { Component, Dossier } from '../../model/dossier.ts';
import { pinOf } from '../../model/ids.ts';
import type { Pin } from '../../model/net.ts';
import { pinsMeant } from '../../model/pinout.ts';
import type { Path, ReadDocument } from '../document/document.ts';
import type { ArchiveRule, DossierRule, Report } from './context.ts';
import { recordLookup } from './described.ts';

/** A pinout gives each number once, and no more pins than were counted. */
export const pinoutsAreInOrder: DossierRule = (document, report) => {
  document.dossier.components.forEach(({ id, pins, pinout }, i) =>
    checkPinout(document, ['components', i], id, { pins, pinout }, report),
  );
};

/** The same of the catalogue's parts. */
export const partsPinoutsAreInOrder: ArchiveRule = (documents, _held, report) => {
  for (const document of documents) {
    if (document.kind !== 'catalogue') continue;
    document.catalogue.parts.forEach((part, i) =>
      checkPinout(document, ['parts', i], partIdOf(part), part, report),
    );
  }
};

function checkPinout(
  document: ReadDocument,
  path: Path,
  id: string,
  { pins, pinout = [] }: Pick<Component, 'pins' | 'pinout'>,
  report: Report,
): void {
  const seen = new Set<string>();
  pinout.forEach(({ number }, j) => {
    if (number === undefined) return;
    if (seen.has(number)) {
      const what = `pin ${number} of ${id} is in its pinout twice`;
      report(document, [...path, 'pinout', j, 'number'], what, 'give each pin its own number');
    }
    seen.add(number);
  });
  if (pins === undefined || seen.size <= pins) return;
  const what = `${id} has ${pins} pins, but its pinout lists ${seen.size}`;
  report(document, [...path, 'pins'], what, 'correct one of the two; a pad below counts as a pin', 'caution');
}

/** Pins that nets and mated connectors name are among those counted, and in the pinout of the component or its part. */
export const namedPinsExist: ArchiveRule = (documents, held, report) => {
  const partOf = recordLookup('parts', documents, held);
  for (const document of documents) {
    if (document.kind !== 'dossier') continue;
    const { dossier } = document;
    const named = pinsNamed(dossier);
    for (const component of dossier.components) {
      const all = named.get(component.id);
      if (!all) continue;
      const part = partOf(likeliestPart(dossier, component.id) ?? '');
      const count = component.pins ?? part?.pins;
      const beyond = count === undefined ? [] : all.filter(({ pin }) => /^\d+$/u.test(pin) && +pin > count);
      caution(beyond, `is beyond its ${count} pins`, 'check the number; a pad below counts as a pin');
      const { pinout, of } = pinoutOf(component, part);
      const strange = pinout ? all.filter(({ pin }) => pinsMeant(pinout, pin).length === 0) : [];
      const fix = 'check number or name, or add it to the pinout';
      caution(
        strange.filter((one) => !beyond.includes(one)),
        `is not in the pinout of ${of}`,
        fix,
      );

      // A pinout that is not whole would otherwise bring a line for each pin.
      function caution([first, ...more]: readonly NamedPin[], what: string, fix: string): void {
        if (!first) return;
        const others = more.length > 0 ? ` (and ${more.length} more)` : '';
        const said = `pin ${first.pin}${others} of ${component.id} ${what}`;
        report(document as ReadDocument, first.path, said, fix, 'caution');
      }
    }
  }
};

interface NamedPin {
  readonly pin: string;
  readonly path: Path;
}

/** Pins that nets and mated connectors name, by component, in the order of the file. */
function pinsNamed({ nets = [], connections }: Dossier): ReadonlyMap<string, readonly NamedPin[]> {
  const named = new Map<string, NamedPin[]>();
  const add = (component: string, pin: string, path: Path) => {
    const group = named.get(component);
    if (group) group.push({ pin, path });
    else named.set(component, [{ pin, path }]);
  };
  connections.forEach(({ between, pins = [] }, i) => {
    pins.forEach((pair, j) => {
      for (const end of [0, 1] as const) add(between[end], pair[end], ['connections', i, 'pins', j, end]);
    });
  });
  nets.forEach(({ pins }, i) => {
    pins.forEach((written, j) => {
      const { component, pin } = pinOf(written);
      if (pin !== undefined) add(component, pin, ['nets', i, 'pins', j]);
    });
  });
  return named;
}

/** The part that a component more likely than not is. */
function likeliestPart({ identifications }: Dossier, component: string): string | undefined {
  const last = identifications.findLast((one) => one.component === component && one.state !== 'withdrawn');
  return last?.candidates.find(({ probability }) => probability > 0.5)?.part;
}

function pinoutOf(
  { id, pinout }: Component,
  part: Part | undefined,
): { readonly pinout: readonly Pin[] | undefined; readonly of: string } {
  if (pinout || !part) return { pinout, of: id };
  return { pinout: part.pinout, of: `its part ${partIdOf(part)}` };
}

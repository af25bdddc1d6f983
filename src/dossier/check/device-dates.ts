import { certainlyBefore } from '../../model/dates.ts';
import { deviceIdOf } from '../../model/dossier.ts';
import type { ArchiveRule } from './context.ts';
import { deviceLookup, devicesDescribed, recordLookup } from './described.ts';

/** A device is released no earlier than those it succeeds. */
export const successorsComeLater: ArchiveRule = (documents, held, report) => {
  const deviceOf = deviceLookup(documents, held);
  for (const { device, document, path } of devicesDescribed(documents).values()) {
    device.succeeds.forEach((id, i) => {
      const before = deviceOf(id);
      if (!before || !certainlyBefore(device.released, before.released)) return;
      const what = `${device.id} (${device.released}) is released before ${id} (${before.released}), which it succeeds`;
      report(document, [...path, 'succeeds', i], what, 'check both dates and the direction');
    });
  }
};

/** Nobody buys a device before its release; opening one before is a press sample or a slip. */
export const specimensComeAfterRelease: ArchiveRule = (documents, held, report) => {
  const deviceOf = deviceLookup(documents, held);
  for (const document of documents) {
    if (document.kind !== 'dossier') continue;
    const { specimen, teardown } = document.dossier;
    const released = deviceOf(deviceIdOf(document.dossier))?.released;
    if (released === undefined) continue;
    if (specimen.bought !== undefined && certainlyBefore(specimen.bought, released)) {
      const what = `bought before the device was released: ${specimen.bought} lies before ${released}`;
      report(
        document,
        ['specimen', 'bought'],
        what,
        'check both dates; leave "bought" out for a sample on loan',
      );
    } else if (certainlyBefore(teardown.on, released)) {
      const what = `opened before the device was released: ${teardown.on} lies before ${released}`;
      report(document, ['teardown', 'on'], what, 'check both dates, unless it was a sample', 'caution');
    }
  }
};

/** A part that was first delivered after the device was released can hardly be in it. */
export const partsAreOldEnough: ArchiveRule = (documents, held, report) => {
  const deviceOf = deviceLookup(documents, held);
  const partOf = recordLookup('parts', documents, held);
  for (const document of documents) {
    if (document.kind !== 'dossier') continue;
    const released = deviceOf(deviceIdOf(document.dossier))?.released;
    if (released === undefined) continue;
    document.dossier.identifications.forEach(({ component, candidates, state }, i) => {
      if (state === 'withdrawn') return;
      candidates.forEach(({ part }, j) => {
        const introduced = part === undefined ? undefined : partOf(part)?.introduced;
        if (introduced === undefined || !certainlyBefore(released, introduced)) return;
        const what = `${component} may be ${part}, first delivered ${introduced}, but the device was released ${released}`;
        const path = ['identifications', i, 'candidates', j, 'part'];
        report(document, path, what, 'check the part and both dates', 'caution');
      });
    });
  }
};

import { certainlyBefore } from '../../model/dates.ts';
import type { Device } from '../../model/dossier.ts';
import type { Path } from '../tree.ts';
import type { ArchiveRule, DossierRule } from './context.ts';

/** A specimen is opened after it was bought, and looked at no earlier than it was opened. */
export const benchDatesAreInOrder: DossierRule = (document, report) => {
  const { specimen, teardown, device, observations } = document.dossier;
  const order = (before: string | undefined, after: string | undefined, path: Path, what: string) => {
    if (before === undefined || after === undefined || !certainlyBefore(after, before)) return;
    report(document, path, `${what}: ${after} lies before ${before}`, 'check both dates');
  };
  order(specimen.bought, teardown.on, ['teardown', 'on'], 'opened before it was bought');
  if (typeof device !== 'string') {
    order(device.released, specimen.bought, ['specimen', 'bought'], 'bought before the device was released');
    order(device.released, teardown.on, ['teardown', 'on'], 'opened before the device was released');
  }
  observations.forEach(({ on, kind }, i) => {
    // What is seen from outside may be seen before the specimen is opened.
    if (kind !== 'condition' && kind !== 'x-ray')
      order(teardown.on, on, ['observations', i, 'on'], 'seen before the specimen was opened');
  });
};

/** A device is released no earlier than those it succeeds. */
export const successorsComeLater: ArchiveRule = (documents, held, report) => {
  const devices = new Map<string, Device>();
  for (const document of documents) {
    if (document.kind === 'dossier' && typeof document.dossier.device !== 'string') {
      devices.set(document.dossier.device.id, document.dossier.device);
    }
  }
  for (const document of documents) {
    if (document.kind !== 'dossier' || typeof document.dossier.device === 'string') continue;
    const { device } = document.dossier;
    device.succeeds.forEach((id, i) => {
      const before = devices.get(id) ?? held.device(id);
      if (before && certainlyBefore(device.released, before.released)) {
        report(
          document,
          ['device', 'succeeds', i],
          `${device.id} (${device.released}) is released before ${id} (${before.released}), which it succeeds`,
          'check both dates and the direction',
        );
      }
    });
  }
};

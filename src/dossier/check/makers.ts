import type { ArchiveRule } from './context.ts';
import { devicesDescribed, recordLookup } from './described.ts';

/** A maker is known to make what is said to be its own, and a device has the maker of its line. */
export const makersMakeWhatTheySell: ArchiveRule = (documents, held, report) => {
  const makerOf = recordLookup('makers', documents, held);
  const productLineOf = recordLookup('productLines', documents, held);
  const lacks = (id: string, what: 'devices' | 'parts') => makerOf(id)?.makes.includes(what) === false;
  const fix = (what: string) => `add ${what} to what the maker makes, or name another maker`;
  for (const { device, document, path } of devicesDescribed(documents).values()) {
    if (lacks(device.maker, 'devices')) {
      const what = `maker "${device.maker}" is not said to make devices`;
      report(document, [...path, 'maker'], what, fix('devices'), 'caution');
    }
    const line = device.productLine === undefined ? undefined : productLineOf(device.productLine);
    if (line && makerOf(device.maker) && line.maker !== device.maker) {
      const what = `${device.id} is by "${device.maker}", its line "${line.id}" by "${line.maker}"`;
      report(
        document,
        [...path, 'productLine'],
        what,
        'check both, unless the line changed hands',
        'caution',
      );
    }
  }
  for (const document of documents) {
    if (document.kind !== 'catalogue') continue;
    document.catalogue.parts.forEach(({ maker }, i) => {
      if (!lacks(maker, 'parts')) return;
      report(
        document,
        ['parts', i, 'maker'],
        `maker "${maker}" is not said to make parts`,
        fix('parts'),
        'caution',
      );
    });
  }
};

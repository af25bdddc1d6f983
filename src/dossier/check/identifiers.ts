import { isGtin, splitFccId } from '../../model/identifiers.ts';
import type { ArchiveRule } from './context.ts';
import { devicesDescribed } from './described.ts';

/** Identifiers with a published structure have it (47 CFR 2.926; GS1 General Specifications). */
export const identifiersAreWellFormed: ArchiveRule = (documents, _held, report) => {
  for (const { device, document, path } of devicesDescribed(documents).values())
    device.regulatoryIds.forEach(({ scheme, id }, i) => {
      const at = [...path, 'regulatoryIds', i, 'id'];
      if (scheme === 'fcc' && !splitFccId(id)) {
        report(
          document,
          at,
          `"${id}" is not a valid FCC identifier`,
          'a grantee code of 3 or 5 characters, then up to 14 more, capitals',
        );
      }
      if (scheme === 'gtin' && !isGtin(id)) {
        report(
          document,
          at,
          `"${id}" is not a valid GTIN`,
          '8, 12, 13 or 14 digits; the last is a check digit',
        );
      }
    });
};

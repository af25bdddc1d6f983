import type { PhotoFile } from '../../model/photo-file.ts';
import { scaleFactorsOf, sizesOf, TILE } from '../../photos/sizes.ts';

/**
 * What a viewer has to know of a picture: `info.json` of the IIIF Image API 3.0, section 5, at compliance level 0. Only what is listed
 * here is at hand.
 * @param address of the picture, with scheme and host
 */
export function imageInformation(address: string, { width, height }: PhotoFile, licence: string): object {
  return {
    '@context': 'http://iiif.io/api/image/3/context.json',
    id: address,
    type: 'ImageService3',
    protocol: 'http://iiif.io/api/image',
    profile: 'level0',
    width,
    height,
    sizes: sizesOf({ width, height }),
    tiles: [{ width: TILE, scaleFactors: scaleFactorsOf({ width, height }) }],
    extraFeatures: ['cors', 'jsonldMediaType'],
    ...rightsOf(licence),
  };
}

/** Licences whose addresses the specification admits: those of Creative Commons, by their SPDX identifiers. */
function rightsOf(licence: string): { readonly rights?: string } {
  const found = /^(?<kind>CC-BY(?:-NC)?(?:-ND|-SA)?)-(?<version>[1-4]\.\d)$/u.exec(licence)?.groups;
  if (licence === 'CC0-1.0') return { rights: 'http://creativecommons.org/publicdomain/zero/1.0/' };
  if (!found) return {};
  const kind = found.kind.slice('CC-'.length).toLowerCase();
  return { rights: `http://creativecommons.org/licenses/${kind}/${found.version}/` };
}

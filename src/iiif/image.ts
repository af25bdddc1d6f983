import type { PhotoFile } from '../model/photo-file.ts';
import { scaleFactorsOf, sizesOf, TILE } from '../photos/sizes.ts';
import { rightsOf } from './rights.ts';

/** Address of the context of the IIIF Image API 3.0. */
export const IMAGE_API = 'http://iiif.io/api/image/3/context.json';

/**
 * What a viewer has to know of a picture: `info.json` of the IIIF Image API 3.0, section 5, at compliance level 0. Only what is listed
 * here is at hand.
 * @param address of the picture, with scheme and host
 */
export function imageInformation(address: string, { width, height }: PhotoFile, licence: string): object {
  return {
    '@context': IMAGE_API,
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

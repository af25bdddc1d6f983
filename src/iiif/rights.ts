/** Addresses that IIIF admits as rights, both of which are written with http (Image API 3.0, section 5.6; Presentation API 3.0, section 3.1). */
const ADMITTED =
  /^https?:\/\/(?:www\.)?(?<rest>(?:creativecommons\.org\/(?:licenses|publicdomain)|rightsstatements\.org\/(?:vocab|page))\/[!-~]+)$/u;

/**
 * The address that stands for a licence: of Creative Commons by its SPDX identifier, or one of Creative Commons or RightsStatements.org
 * that is given as such. Empty for every other licence, whose words stand in the metadata.
 */
export function rightsOf(licence: string): { readonly rights?: string } {
  const given = ADMITTED.exec(licence)?.groups?.rest;
  // What RightsStatements.org shows to people has `page` where its address has `vocab`.
  if (given !== undefined)
    return { rights: `http://${given.replace(/^(rightsstatements\.org)\/page\//u, '$1/vocab/')}` };
  if (licence === 'CC0-1.0') return { rights: 'http://creativecommons.org/publicdomain/zero/1.0/' };
  const found = /^(?<kind>CC-BY(?:-NC)?(?:-ND|-SA)?)-(?<version>[1-4]\.\d)$/u.exec(licence)?.groups;
  if (!found) return {};
  const kind = found.kind.slice('CC-'.length).toLowerCase();
  return { rights: `http://creativecommons.org/licenses/${kind}/${found.version}/` };
}

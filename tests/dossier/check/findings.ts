import { type Held, NOTHING_HELD } from '../../../src/dossier/check/context.ts';
import { checkDocuments } from '../../../src/dossier/check/rules.ts';
import { changed, documentOf, GOOD_CATALOGUE, GOOD_DOSSIER } from '../files.ts';

/** `caution a.yaml:12 device.maker: what — fix`, for every finding. */
export function findingsIn(texts: readonly string[], held: Held = NOTHING_HELD): readonly string[] {
  const documents = texts.map((text, i) => documentOf(text, `${'abcdef'[i]}.yaml`));
  return checkDocuments(documents, held).map(
    ({ severity, file, line, path, what, fix }) =>
      `${severity === 'caution' ? 'caution ' : ''}${file}:${line} ${path}: ${what} — ${fix}`,
  );
}

/** Findings when one thing is changed in the sound dossier; the catalogue stands beside it as `b.yaml`. */
export function withDossier(from: string, to: string): readonly string[] {
  return findingsIn([changed(GOOD_DOSSIER, from, to), GOOD_CATALOGUE]);
}

/** Findings when one thing is changed in the catalogue `b.yaml`. */
export function withCatalogue(from: string, to: string): readonly string[] {
  return findingsIn([GOOD_DOSSIER, changed(GOOD_CATALOGUE, from, to)]);
}

/** A second dossier of the same or another device. */
export function another(specimen: string, device = 'tarn-sennit-3'): string {
  return `caseback: dossier/1\ndevice: ${device}\nspecimen: { id: ${specimen} }\nteardown: { on: 2020, by: I. Example }\n`;
}

/** A dossier that describes a device of its own. */
export function deviceCalled(id: string, more: string): string {
  return `caseback: dossier/1
device: { id: ${id}, name: ${id}, maker: tarn, bodySite: wrist, ${more} }
specimen: { id: a }
teardown: { on: 2025, by: I. Example }
`;
}

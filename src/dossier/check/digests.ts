import type { DossierRule } from './context.ts';

/** SHA-256 of no bytes at all (FIPS 180-4 gives the function; `sha256sum /dev/null` shows this value). */
const OF_NOTHING = 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855';

/** A digest of a photo is that of a file: no run of one digit, not that of an empty file, and no two photos have one. */
export const digestsAreOfFiles: DossierRule = (document, report) => {
  const seen = new Map<string, string>();
  document.dossier.photos.forEach(({ id, sha256 }, i) => {
    const path = ['photos', i, 'sha256'];
    const fix = 'calculate it from the file: shasum -a 256 FILE';
    if (/^(.)\1*$/u.test(sha256))
      report(
        document,
        path,
        `photo "${id}" has a digest of "${sha256[0]}" throughout, which no file has`,
        fix,
      );
    else if (sha256 === OF_NOTHING)
      report(document, path, `photo "${id}" has the digest of an empty file`, fix);
    const before = seen.get(sha256);
    if (before !== undefined)
      report(
        document,
        path,
        `photo "${id}" has the same digest as "${before}": they are one file`,
        'give each photo its own digest, or list it once',
        'caution',
      );
    seen.set(sha256, before ?? id);
  });
};

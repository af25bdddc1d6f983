import { partIdOf } from '../../model/catalogue.ts';
import type { Component } from '../../model/dossier.ts';
import type { Path, ReadDocument } from '../document/document.ts';
import type { ArchiveRule, DossierRule, Report } from './context.ts';

/** More terminals than any package has (chosen; the largest grids have some thousands of balls, from memory). */
const MOST = 10_000;
/** Distances of terminals, mm: finer than packages are soldered by today, and half of that (from memory: 0.3 to 0.35). */
const FINE = 0.3;
const TOO_FINE = 0.15;
/** How many times what its package says a count may be before it can be no count of that package (chosen). */
const TIMES = 4;

/** Families whose names end in their number of terminals: JEDEC-style names as the trade writes them (common practice, no source). */
const COUNTED = /(?:QFN|DFN|SON|LGA|BGA|CSP|WLP|SOIC|SO|SOP|QFP|LCC|DIP)[ _-]?(\d{1,4})$/u;
/** Outlines with a number of their own; only a second number counts terminals: SOT-23-5, SC-70-6. */
const OUTLINES = /^(?:SOT|SC)[ _-]?\d{2,4}[ _-](\d{1,2})$/u;

/** Terminals are as many as the package's name says and the body has room for. */
export const pinsFitTheirPackage: DossierRule = (document, report) => {
  document.dossier.components.forEach((component, i) =>
    checkCount(document, ['components', i, 'pins'], component.id, component, report),
  );
};

/** The same of the catalogue's parts. */
export const pinsOfPartsFitTheirPackage: ArchiveRule = (documents, _held, report) => {
  for (const document of documents) {
    if (document.kind !== 'catalogue') continue;
    document.catalogue.parts.forEach((part, i) =>
      checkCount(document, ['parts', i, 'pins'], partIdOf(part), part, report),
    );
  }
};

function checkCount(
  document: ReadDocument,
  path: Path,
  id: string,
  { pins, package: written, body }: Pick<Component, 'pins' | 'package' | 'body'>,
  report: Report,
): void {
  if (pins === undefined) return;
  const said = written === undefined ? undefined : pinsOfPackage(written);
  const count = pins.toLocaleString('en');
  if (pins > MOST)
    report(document, path, `${id} has ${count} pins, more than any package has`, 'count them again');
  else if (said !== undefined && pins > TIMES * (said + 1))
    report(
      document,
      path,
      `${id} has ${count} pins, but its package ${written} has ${said}`,
      'correct one of the two',
    );
  else if (body && pins > roomFor(body, TOO_FINE))
    report(
      document,
      path,
      `${id} has ${count} pins under ${body.length} × ${body.width} mm: they would stand closer than ${TOO_FINE} mm`,
      'check the count and the size of the body (mm)',
    );
  else if (said !== undefined && pins !== said && pins !== said + 1)
    report(
      document,
      path,
      `${id} has ${count} pins, but its package ${written} has ${said}`,
      'correct one of the two; a pad below counts as one more',
      'caution',
    );
  else if (body && pins > roomFor(body, FINE))
    report(
      document,
      path,
      `${id} has ${count} pins under ${body.length} × ${body.width} mm: they would stand closer than ${FINE} mm`,
      'check the count and the size of the body (mm)',
      'caution',
    );
}

/** Number of terminals that the name of a package says; undefined where it says none. */
function pinsOfPackage(written: string): number | undefined {
  const name = written.trim().toUpperCase();
  const digits = (OUTLINES.exec(name) ?? COUNTED.exec(name))?.[1];
  return digits === undefined || Number(digits) === 0 ? undefined : Number(digits);
}

/** How many terminals a grid of a pitch has room for under a body. */
function roomFor(
  { length, width }: { readonly length: number; readonly width: number },
  pitch: number,
): number {
  return (Math.floor(length / pitch) + 1) * (Math.floor(width / pitch) + 1);
}

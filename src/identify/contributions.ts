import type { OpenedSpecimen } from '../graph/specimen.ts';
import type { Part } from '../model/catalogue.ts';
import type { Device } from '../model/dossier.ts';
import { type MarkingText, parseMarking } from '../model/marking.ts';
import { AGREES, type Agreement, type Contribution, DIFFERS, packageKey, TEACHES } from './habits.ts';
import { neighboursOf } from './neighbours.ts';
import { type StandingFields, standingFields } from './sighting.ts';

/** Whether a marking is likelier one that a part is known to carry than any other; undefined where it does not tell. */
export type IsListed = (marking: MarkingText, part: Part) => boolean | undefined;

/**
 * What the settled identifications of one specimen teach. Only the dossier's own fields count, as far as they stand: a
 * new observation of one component teaches no other device.
 */
export function contributionsOf(
  specimen: OpenedSpecimen,
  device: Device,
  partOf: (id: string) => Part | undefined,
  isListed: IsListed,
): readonly Contribution[] {
  const contributions: Contribution[] = [];
  for (const component of specimen.dossier.components) {
    const { id, side } = component;
    const settled = settledPart(specimen, id);
    const part = settled === undefined ? undefined : partOf(settled);
    if (settled === undefined || !part) continue;
    const { marking, package: body, pins } = standingFields(specimen, component);
    const [category] = part.categories;
    contributions.push({ table: 'part', given: '', seen: settled });
    contributions.push({ table: 'maker', given: device.maker, seen: part.maker });
    if (body) contributions.push({ table: 'package', given: category, seen: packageKey(body) });
    if (pins) contributions.push({ table: 'pins', given: body ? packageKey(body) : '', seen: String(pins) });
    if (side) contributions.push({ table: 'side', given: category, seen: side });
    for (const { category: seen, bus } of neighboursOf(specimen, id)) {
      contributions.push({ table: 'neighbour', given: category, seen });
      if (bus) contributions.push({ table: 'bus', given: category, seen: bus });
    }
    contributions.push(...agreements({ marking, package: body, pins }, part, isListed));
  }
  return contributions;
}

/** Whether bench and catalogue agree, for each thing that both have. */
function agreements({ marking, package: body, pins }: StandingFields, part: Part, isListed: IsListed) {
  const agreement = (given: Agreement, agrees: boolean): Contribution => ({
    table: 'agreement',
    given,
    seen: agrees ? AGREES : DIFFERS,
  });
  const listed = marking === undefined ? undefined : isListed(parseMarking(marking), part);
  return [
    ...(body && part.package ? [agreement('package', packageKey(body) === packageKey(part.package))] : []),
    ...(pins && part.pins ? [agreement('pins', pins === part.pins)] : []),
    ...(listed === undefined ? [] : [agreement('marking', listed)]),
  ];
}

/** The part a component is settled to be, or undefined. */
export function settledPart(specimen: OpenedSpecimen, designator: string): string | undefined {
  const identification = specimen.identified.get(designator);
  if (identification?.state !== 'settled') return undefined;
  return identification.candidates.find(
    ({ part, probability }) => part !== undefined && probability >= TEACHES,
  )?.part;
}

import { partIdOf } from '../model/catalogue.ts';
import { readDecisionId } from '../model/decision.ts';
import { localThing } from '../state/specimen.ts';
import type { View } from '../state/view.ts';
import { spokenObservation } from './support.ts';

/** What a thing in the archive is, and what one would call it. */
export interface Named {
  readonly id: string;
  /** Label of the thing, such as `Observation`. */
  readonly kind: string;
  /** In a few words. */
  readonly says: string;
}

/** Kind and name of anything that a view sees; undefined when it sees nothing of that id. */
export function nameOf(view: View, id: string): Named | undefined {
  const decision = readDecisionId(id);
  if (decision) {
    const [device, pattern] = [view.device(decision.device), view.pattern(decision.pattern)];
    return device && pattern && { id, kind: 'Decision', says: `${device.name}: ${pattern.name}` };
  }
  const steps = id.split('/');
  if (steps.length === 1) return recordName(view, id);
  if (steps.length === 2) return pairName(view, id, steps[0], steps[1]);
  return steps.length === 3 ? insideName(view, id, `${steps[0]}/${steps[1]}`, steps[2]) : undefined;
}

function recordName(view: View, id: string): Named | undefined {
  const device = view.device(id);
  if (device) return { id, kind: 'Device', says: device.name };
  const publication = view.publication(id);
  if (publication) return { id, kind: 'Publication', says: publication.title };
  const source = view.source(id);
  if (source) return { id, kind: 'Source', says: source.title };
  const pattern = view.pattern(id);
  if (pattern) return { id, kind: 'Pattern', says: pattern.name };
  const maker = view.maker(id);
  if (maker) return { id, kind: 'Maker', says: maker.name };
  const productLine = view.productLine(id);
  return productLine && { id, kind: 'ProductLine', says: productLine.name };
}

function pairName(view: View, id: string, first: string, second: string): Named | undefined {
  const specimen = view.specimenRow(id);
  if (specimen) return { id, kind: 'Specimen', says: `opened ${specimen.openedOn}` };
  const part = view.part(id);
  if (part) return { id, kind: 'Part', says: part.name ?? partIdOf(part) };
  const claim = view.publication(first)?.claims.find((one) => one.id === second);
  return claim && { id, kind: 'Claim', says: claim.sentence };
}

function insideName(view: View, id: string, specimenId: string, local: string): Named | undefined {
  const specimen = view.specimen(specimenId);
  const found = specimen && localThing(specimen, local);
  switch (found?.kind) {
    case 'Component': {
      const top = specimen?.identified.get(local)?.candidates[0];
      const taken = top?.part ?? top?.category ?? found.thing.appears;
      return {
        id,
        kind: 'Component',
        says: taken ? `${local}, taken for ${taken}` : `${local}, not identified`,
      };
    }
    case 'Board':
      return { id, kind: 'Board', says: found.thing.name ?? `${found.thing.kind} board` };
    case 'Observation':
      return { id, kind: 'Observation', says: spokenObservation(found.thing) };
    case undefined: {
      const photo = specimen?.dossier.photos.find((one) => one.id === local);
      if (photo) return { id, kind: 'Photo', says: photo.caption ?? `photo by ${photo.credit}` };
      if (specimen && local === 'teardown')
        return { id, kind: 'Teardown', says: `opened ${specimen.dossier.teardown.on}` };
      const subsystem = specimen?.dossier.subsystems.find((one) => one.id === local);
      return subsystem && { id, kind: 'Subsystem', says: subsystem.name ?? subsystem.kind };
    }
    default:
      return found satisfies never;
  }
}

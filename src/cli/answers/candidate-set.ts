import type { CandidateSet } from '../../identification/conformal.ts';
import { partIdOf } from '../../model/catalogue.ts';
import { counted } from './figures.ts';

/** Parts of a set that its sentence names. */
const NAMED = 12;

/** A candidate set in a sentence or two. */
export function spokenSet({
  coverage,
  parts,
  none,
  size,
  devices,
  among: over,
  void: why,
}: CandidateSet): string {
  if (why !== undefined) return `no set with a coverage of ${coverage}: ${why}`;
  const members = [
    ...parts.slice(0, NAMED).map(({ part }) => partIdOf(part)),
    ...(parts.length > NAMED ? [`${parts.length - NAMED} more`] : []),
    ...(none ? ['none in the catalogue'] : []),
  ];
  const among = over === 'all chips' ? '' : ', among chips whose marking was read as well as this one';
  return `one of ${size}, with a coverage of ${coverage}${among}: ${members.join(', ')}. Based on settled components of ${counted(devices, 'other device')}; it holds for devices like these and for chips that are no harder than the settled ones`;
}

import {
  impliedBy,
  isOffBoard,
  lineage,
  meaningOf,
  namesOf,
  TERM_PARENTS,
  TERMS,
} from '../model/taxonomy.ts';
import { type LinkedNode, some } from './nodes.ts';
import { kindIri, type LinkedPlace, SPACES } from './places.ts';

// The taxonomy as a concept scheme (W3C SKOS Reference, 2009). A term implied by another is not skos:related to it: that property is
// symmetric and disjoint with broader.

/** Address of the scheme. */
export function schemeIri({ base }: LinkedPlace): string {
  return `${base}${SPACES.concept.slice(0, -1)}`;
}

const isTop = (term: string) => lineage(term).length === 1;

/** The scheme without its concepts. */
export function schemeNode(place: LinkedPlace): LinkedNode {
  return {
    id: schemeIri(place),
    type: 'skos:ConceptScheme',
    name: 'Taxonomy of components',
    hasTopConcept: TERMS.filter(isTop).map(kindIri),
  };
}

/** A term as a concept. */
export function conceptNode(term: string, place: LinkedPlace): LinkedNode {
  const [name, ...others] = namesOf(term);
  const english = (value: string | undefined) => value && { '@value': value, '@language': 'en' };
  const scheme = schemeIri(place);
  const parents = TERM_PARENTS.flatMap(([child, parent]) => (child === term ? [parent] : []));
  const children = TERM_PARENTS.flatMap(([child, parent]) => (parent === term ? [child] : []));
  const implied = impliedBy(term);
  return {
    id: kindIri(term),
    type: 'skos:Concept',
    notation: term,
    label: english(name),
    alsoCalled: some(others.map(english)),
    definition: english(meaningOf(term)),
    inScheme: scheme,
    topConceptOf: isTop(term) ? scheme : undefined,
    broader: some(parents.map(kindIri)),
    narrower: some(children.map(kindIri)),
    // Said of the term itself; what is under it takes it over.
    impliedBy: implied?.of === term ? kindIri(implied.by) : undefined,
    offBoard: isOffBoard(term),
  };
}

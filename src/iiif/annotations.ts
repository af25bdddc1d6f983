import { recordAddress } from '../linked/places.ts';
import type { Photo } from '../model/dossier.ts';
import type { PhotoFile } from '../model/photo-file.ts';
import { stepName } from '../model/photo-region.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { annotationsAt, type PhotoPlace, wholeAt } from './addresses.ts';
import { type Selector, selectorOf } from './selectors.ts';
import { shownAs } from './shown.ts';

/** Address of the context of Web Annotations, as their specification gives it. */
const CONTEXT = 'http://www.w3.org/ns/anno.jsonld';

/** A photo with its file, in the specimen that it is of. */
export interface PhotoInside {
  /** `device/specimen/photo`. */
  readonly id: string;
  readonly photo: Photo;
  readonly file: PhotoFile;
  readonly opened: OpenedSpecimen;
}

/** A region as a Web Annotation: that a part of a picture shows a thing. */
export interface RegionAnnotation {
  readonly id: string;
  readonly type: 'Annotation';
  readonly motivation: 'identifying';
  readonly body: readonly object[];
  readonly target: {
    readonly type: 'SpecificResource';
    readonly source: string;
    readonly selector: Selector;
  };
}

/** A page of Web Annotations (Web Annotation Data Model, W3C Recommendation 2017, section 5). */
export interface AnnotationPage {
  readonly '@context': typeof CONTEXT;
  readonly id: string;
  readonly type: 'AnnotationPage';
  readonly partOf: object;
  readonly startIndex: number;
  readonly items: readonly RegionAnnotation[];
}

/**
 * The regions of a photo as Web Annotations of its picture. Each has two bodies: the thing itself, by its address in the linked data,
 * and its name in words, for programs that show no more than that.
 */
export function annotationPage({ id, photo, file, opened }: PhotoInside, place: PhotoPlace): AnnotationPage {
  const page = annotationsAt(place.base, id);
  const items = photo.regions.flatMap((region, i): readonly RegionAnnotation[] => {
    const shown = shownAs(opened, region.of);
    if (!shown) return [];
    const part = shown.step === undefined ? undefined : stepName(shown.step);
    return [
      {
        id: `${page}#region-${i + 1}`,
        type: 'Annotation',
        motivation: 'identifying',
        body: [
          {
            type: 'SpecificResource',
            source: recordAddress(place.records, shown.id, part),
            purpose: 'identifying',
          },
          {
            type: 'TextualBody',
            value: shown.label.toWellFormed(),
            format: 'text/plain',
            language: 'en',
            purpose: 'describing',
          },
        ],
        target: {
          type: 'SpecificResource',
          source: wholeAt(place.base, id),
          selector: selectorOf(region, file),
        },
      },
    ];
  });
  return {
    '@context': CONTEXT,
    id: page,
    type: 'AnnotationPage',
    partOf: {
      id: `${page}#all`,
      type: 'AnnotationCollection',
      label: `Regions of the photo ${id}`,
      total: items.length,
    },
    startIndex: 0,
    items,
  };
}

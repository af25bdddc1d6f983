import type { EntryKind } from '../../model/entry.ts';

interface Filed {
  readonly visibility?: string;
}

/**
 * In version 2, filing something again as a draft or under embargo took back what readers saw of it. Since version 3 that leaves
 * standing what they saw, and a recall is an entry of its own; so an older entry says that it recalls.
 */
export function fromVersion2(kind: EntryKind, payload: unknown): unknown {
  switch (kind) {
    case 'dossier-put':
      return isHidden(payload as Filed) ? { ...(payload as Filed), recalls: true } : payload;
    case 'record-put': {
      const { record } = payload as { readonly record: Filed };
      return isHidden(record) ? { ...(payload as object), recalls: true } : payload;
    }
    case 'observation-recorded':
    case 'observation-withdrawn':
    case 'identification-set':
    case 'identification-judged':
    case 'decision-judged':
    case 'correction-made':
    case 'recalled':
    case 'clock-corrected':
    case 'photo-kept':
    case 'photo-recorded':
      return payload;
    default:
      return kind satisfies never;
  }
}

function isHidden({ visibility = 'published' }: Filed): boolean {
  return visibility !== 'published';
}

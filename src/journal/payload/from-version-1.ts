import type { EntryKind } from '../../model/entry.ts';

type Members = Readonly<Record<string, unknown>>;

/**
 * Version 1, the entries without a version, had `family` for a product line, `piece` for a publication and `restsOn`
 * for what supports a claim.
 */
export function fromVersion1(kind: EntryKind, payload: unknown): unknown {
  switch (kind) {
    case 'record-put':
      return recordPut(payload as Members);
    case 'dossier-put': {
      const { device } = payload as Members;
      return isGroup(device)
        ? { ...(payload as Members), device: renamed(device, 'family', 'productLine') }
        : payload;
    }
    case 'correction-made':
      return correctionMade(payload as Members);
    case 'observation-recorded':
    case 'observation-withdrawn':
    case 'identification-set':
    case 'identification-judged':
    case 'decision-judged':
    case 'clock-corrected':
    case 'photo-kept':
    case 'photo-recorded':
    case 'recalled':
      return payload;
    default:
      return kind satisfies never;
  }
}

function recordPut(payload: Members): Members {
  const { collection, record } = payload;
  if (collection === 'families') return { ...payload, collection: 'productLines' };
  if (collection !== 'pieces') return payload;
  const { claims = [], ...rest } = record as Members;
  return {
    ...payload,
    collection: 'publications',
    record: { ...rest, claims: (claims as Members[]).map(claim) },
  };
}

function claim(older: Members): Members {
  const current = renamed(older, 'restsOn', 'supportedBy');
  const { figures } = current;
  return figures === undefined ? current : { ...current, figures: (figures as Members[]).map(figure) };
}

function figure(older: Members): Members {
  return isGroup(older.where) ? { ...older, where: renamed(older.where, 'family', 'productLine') } : older;
}

function correctionMade({ pieces, amendment, ...rest }: Members): Members {
  const publications = (pieces as Members[]).map((piece) => renamed(piece, 'piece', 'publication'));
  return { ...rest, amendment: corrected(amendment as Members), publications };
}

/** A correction of a device's product line names the field. */
function corrected(amendment: Members): Members {
  const { value } = amendment;
  return isGroup(value) && value.field === 'family'
    ? { value: { ...value, field: 'productLine' } }
    : amendment;
}

function renamed(group: Members, from: string, to: string): Members {
  if (!Object.hasOwn(group, from)) return group;
  const { [from]: value, ...rest } = group;
  return { ...rest, [to]: value };
}

function isGroup(value: unknown): value is Members {
  return typeof value === 'object' && value !== null;
}

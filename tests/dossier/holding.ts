import type { HeldDossiers } from '../../src/dossier/check/context.ts';
import { localIds } from '../../src/dossier/check/local-ids.ts';
import { type CatalogueRecord, type Collection, recordId } from '../../src/model/catalogue.ts';
import {
  type Dossier,
  deviceIdOf,
  type EditorJudgement,
  type Identification,
  type Observation,
  specimenIdOf,
} from '../../src/model/dossier.ts';
import type { Change } from '../../src/model/entry.ts';
import { thingId } from '../../src/model/ids.ts';

/** What an archive would hold after changes, in the plainest form; it refuses what is named before it is described. */
export class Holding implements HeldDossiers {
  readonly #records = new Map<string, CatalogueRecord>();
  readonly #filed = new Map<string, Dossier>();
  readonly #observations = new Map<string, Observation[]>();
  readonly #identifications = new Map<string, Identification[]>();
  readonly #judgements = new Map<string, EditorJudgement[]>();
  readonly #withdrawn = new Set<string>();

  apply(changes: readonly Change[]): this {
    for (const { kind, payload } of changes) {
      switch (kind) {
        case 'record-put': {
          const { collection, record } = payload;
          for (const id of namedBy(collection, record)) this.#mustHave(id);
          this.#records.set(`${collection} ${recordId(collection, record)}`, record);
          break;
        }
        case 'dossier-put': {
          const { device } = payload;
          this.#mustHave(device as string);
          for (const { candidates } of payload.identifications)
            for (const { part } of candidates) if (part) this.#mustHave(part);
          this.#filed.set(specimenIdOf(payload), payload);
          break;
        }
        case 'observation-recorded':
          this.#observations.set(payload.specimen, [
            ...(this.#observations.get(payload.specimen) ?? []),
            payload.observation,
          ]);
          break;
        case 'identification-set':
          this.#identifications.set(payload.specimen, [
            ...(this.#identifications.get(payload.specimen) ?? []),
            payload.identification,
          ]);
          break;
        case 'observation-withdrawn':
          this.#withdrawn.add(thingId(payload.specimen, payload.observation));
          break;
        case 'identification-judged':
          this.#judgements.set(payload.specimen, [
            ...(this.#judgements.get(payload.specimen) ?? []),
            payload.judgement,
          ]);
          break;
        case 'decision-judged':
        case 'correction-made':
        case 'clock-corrected':
        case 'recalled':
        case 'photo-kept':
        case 'photo-recorded':
          // Stand beside the dossiers and change none.
          break;
        default:
          return kind satisfies never;
      }
    }
    return this;
  }

  #mustHave(id: string): void {
    if (!this.hasId(id)) throw new Error(`${id} is named before it is described`);
  }

  record<C extends Collection>(collection: C, id: string) {
    return this.#records.get(`${collection} ${id}`) as CatalogueRecord<C> | undefined;
  }

  ids(collection: Collection) {
    return [...this.#records.keys()].flatMap((key) =>
      key.startsWith(`${collection} `) ? [key.slice(collection.length + 1)] : [],
    );
  }

  hasId(id: string): boolean {
    return (
      [...this.#records.keys()].some((key) => key.split(' ')[1] === id) ||
      [...this.#filed].some(([specimen, one]) =>
        localIds(one).some((local) => thingId(specimen, local.id) === id),
      )
    );
  }

  dossierAsFiled(id: string) {
    return this.#filed.get(id);
  }

  dossierNow(id: string): Dossier | undefined {
    const filed = this.#filed.get(id);
    if (!filed) return undefined;
    const withdrawn = { by: 'whoever', on: '2026-01-01T00:00:00Z', reason: 'a test' };
    const judgements = [...(filed.judgements ?? []), ...(this.#judgements.get(id) ?? [])];
    return {
      ...filed,
      observations: [...filed.observations, ...(this.#observations.get(id) ?? [])].map((one) =>
        this.#withdrawn.has(thingId(id, one.id)) ? { ...one, withdrawn } : one,
      ),
      identifications: [...filed.identifications, ...(this.#identifications.get(id) ?? [])],
      ...(judgements.length > 0 ? { judgements } : {}),
    };
  }

  specimensCiting(id: string): readonly string[] {
    return [...this.#filed.keys()].filter((specimen) => {
      const { observations = [], identifications = [] } = this.dossierNow(specimen) ?? {};
      return [...observations, ...identifications].some(({ cites }) => cites?.includes(id));
    });
  }

  specimensOf(id: string): readonly string[] {
    return [...this.#filed].flatMap(([specimen, one]) => (deviceIdOf(one) === id ? [specimen] : []));
  }
}

function namedBy(collection: Collection, record: CatalogueRecord): readonly string[] {
  const { maker, relabels, claims, productLine, succeeds } = record as {
    maker?: string;
    productLine?: string;
    succeeds?: string[];
    relabels?: string;
    claims?: { supportedBy: string[] }[];
  };
  return collection === 'patterns' || collection === 'sources'
    ? []
    : [
        maker,
        relabels,
        productLine,
        ...(succeeds ?? []),
        ...(claims ?? []).flatMap(({ supportedBy }) => supportedBy),
      ].filter((id) => id !== undefined);
}

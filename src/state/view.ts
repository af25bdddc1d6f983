import type {
  Collection,
  DeviceRecord,
  Maker,
  NamedPattern,
  Part,
  ProductLine,
  Publication,
  Source,
} from '../model/catalogue.ts';
import type { Device } from '../model/dossier.ts';
import type { Live } from './live.ts';
import type { SearchHit, SearchKind } from './search-index.ts';
import type { OpenedSpecimen } from './specimen.ts';
import type { DeviceRow, SpecimenRow } from './state.ts';

/** Readers see what is published; the desk sees everything. */
export type Audience = 'reader' | 'desk';

/**
 * What one request may see, decided once. Records that are draft or still under embargo are absent: from
 * look-ups, lists, counts and searches alike, together with product lines and device makers known only
 * through them.
 */
export class View {
  readonly audience: Audience;
  readonly #live: Live;
  readonly #now: string;

  /** @param now the instant at which embargoes are judged, ISO 8601 in UTC */
  constructor(live: Live, audience: Audience, now: string) {
    this.#live = live;
    this.audience = audience;
    this.#now = now;
  }

  /** The instant at which embargoes are judged, ISO 8601 in UTC. */
  get now(): string {
    return this.#now;
  }

  get state() {
    return this.#live.state;
  }

  /** Something worked out from the whole state; who uses it must ask this view what may be seen of it. */
  derived<T>(make: (live: Live) => T): T {
    return this.#live.derived(make);
  }

  device(id: string): Device | undefined {
    const row = this.#live.state.devices.get(id);
    return row && this.#seesDevice(row) ? row.device : undefined;
  }

  /** The device with who may see it by itself. */
  deviceRecord(id: string): DeviceRecord | undefined {
    return this.device(id) && this.#live.state.records.devices.get(id);
  }

  *devices(): Generator<Device> {
    for (const row of this.#live.state.devices.values()) if (this.#seesDevice(row)) yield row.device;
  }

  specimenRow(id: string): SpecimenRow | undefined {
    const row = this.#live.state.specimens.get(id);
    return row && this.seesSpecimen(row) ? row : undefined;
  }

  specimen(id: string): OpenedSpecimen | undefined {
    const row = this.specimenRow(id);
    return row && this.#live.open(row);
  }

  *specimenRows(): Generator<SpecimenRow> {
    for (const row of this.#live.state.specimens.values()) if (this.seesSpecimen(row)) yield row;
  }

  /** Visible specimens of a device, in the order they came. */
  specimensOf(deviceId: string): readonly SpecimenRow[] {
    const row = this.#live.state.devices.get(deviceId);
    if (!row || !this.#seesDevice(row)) return [];
    return row.specimens.flatMap((id) => this.specimenRow(id) ?? []);
  }

  /** Visible specimens that may hold a part. */
  holdersOf(partId: string): readonly SpecimenRow[] {
    return [...(this.#live.state.holders.get(partId) ?? [])].flatMap((id) => this.specimenRow(id) ?? []);
  }

  maker(id: string): Maker | undefined {
    const maker = this.#live.state.records.makers.get(id);
    return maker && this.#seesMaker(maker) ? maker : undefined;
  }

  makers(): readonly Maker[] {
    return [...this.#live.state.records.makers.values()].filter((maker) => this.#seesMaker(maker));
  }

  productLine(id: string): ProductLine | undefined {
    const productLine = this.#live.state.records.productLines.get(id);
    return productLine && this.#seesProductLine(productLine) ? productLine : undefined;
  }

  productLines(): readonly ProductLine[] {
    return [...this.#live.state.records.productLines.values()].filter((productLine) =>
      this.#seesProductLine(productLine),
    );
  }

  part(id: string): Part | undefined {
    return this.#live.state.records.parts.get(id);
  }

  parts(): readonly Part[] {
    return [...this.#live.state.records.parts.values()];
  }

  source(id: string): Source | undefined {
    return this.#live.state.records.sources.get(id);
  }

  sources(): readonly Source[] {
    return [...this.#live.state.records.sources.values()];
  }

  publication(id: string): Publication | undefined {
    const publication = this.#live.state.records.publications.get(id);
    return publication && this.#sees(publication.visibility, publication.embargoUntil)
      ? publication
      : undefined;
  }

  publications(): readonly Publication[] {
    return [...this.#live.state.records.publications.keys()].flatMap((id) => this.publication(id) ?? []);
  }

  pattern(id: string): NamedPattern | undefined {
    return this.#live.state.records.patterns.get(id);
  }

  patterns(): readonly NamedPattern[] {
    return [...this.#live.state.records.patterns.values()];
  }

  /** Whether a catalogue record is visible. */
  sees(collection: Collection, id: string): boolean {
    switch (collection) {
      case 'makers':
        return this.maker(id) !== undefined;
      case 'productLines':
        return this.productLine(id) !== undefined;
      case 'publications':
        return this.publication(id) !== undefined;
      case 'devices':
        return this.device(id) !== undefined;
      case 'parts':
      case 'sources':
      case 'patterns':
        return this.#live.state.records[collection].has(id);
      default:
        return collection satisfies never;
    }
  }

  /** Hits of a full-text search, best first. */
  *search(question: string, kinds?: ReadonlySet<SearchKind>): Generator<SearchHit> {
    for (const hit of this.#live.search?.find(question) ?? []) {
      if ((!kinds || kinds.has(hit.kind)) && this.#seesHit(hit)) yield hit;
    }
  }

  seesSpecimen(row: SpecimenRow): boolean {
    return this.#sees(row.visibility, row.embargoUntil);
  }

  #sees(visibility: SpecimenRow['visibility'], embargoUntil: string | undefined): boolean {
    if (this.audience === 'desk' || visibility === 'published') return true;
    return (
      visibility === 'embargoed' &&
      embargoUntil !== undefined &&
      new Date(embargoUntil).toISOString() <= this.#now
    );
  }

  /** A device is seen when it may be by itself, or some specimen of it is. */
  #seesDevice({ device, specimens }: DeviceRow): boolean {
    const record = this.#live.state.records.devices.get(device.id);
    return (
      (record !== undefined && this.#sees(record.visibility, record.embargoUntil)) ||
      specimens.some((id) => this.specimenRow(id) !== undefined)
    );
  }

  #seesProductLine({ id }: ProductLine): boolean {
    return this.audience === 'desk' || this.#someDeviceNames(id);
  }

  #seesMaker({ id, makes }: Maker): boolean {
    if (this.audience === 'desk' || makes.includes('parts')) return true;
    return this.#someDeviceNames(id);
  }

  /** Whether some visible device points at a maker or a product line. */
  #someDeviceNames(id: string): boolean {
    const { knowledge } = this.#live.state;
    return knowledge.hasNode(id) && knowledge.someInNeighbor(id, (from) => this.device(from) !== undefined);
  }

  #seesHit({ id, kind, specimen }: SearchHit): boolean {
    if (specimen !== '') return this.specimenRow(specimen) !== undefined;
    switch (kind) {
      case 'MAKER':
        return this.maker(id) !== undefined;
      case 'PRODUCT_LINE':
        return this.productLine(id) !== undefined;
      case 'PUBLICATION':
        return this.publication(id) !== undefined;
      case 'DEVICE':
        return this.device(id) !== undefined;
      default:
        return true;
    }
  }
}

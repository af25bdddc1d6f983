// What exports write as a graph.

/** A thing with an id. */
export interface ExportNode {
  readonly id: string;
  /** Its kind, as `resolve` names it; terms of the taxonomy, corrections and decisions besides. */
  readonly kind: string;
  /** What people call it: a name, a title, a sentence, a designator. */
  readonly name: string | undefined;
  /** Id of the device that it belongs to, and of the specimen. */
  readonly device?: string | undefined;
  readonly specimen?: string | undefined;
  /** Its record, without id and without what nodes of their own hold. */
  readonly details: Readonly<Record<string, unknown>>;
}

/** What one thing says of another. */
export interface ExportEdge {
  readonly source: string;
  readonly label: string;
  readonly target: string;
  readonly directed: boolean;
  /** 0 to 1; left out for what was seen or recorded and is not a matter of odds. */
  readonly probability?: number | undefined;
  readonly details?: Readonly<Record<string, unknown>> | undefined;
}

/** A record, or a specimen with all that lies in it. */
export interface Piece {
  readonly nodes: readonly ExportNode[];
  readonly edges: readonly ExportEdge[];
}

/** What an exporter cannot write, or not so that it can be read back: of which record, which field, and why. */
export interface Loss {
  readonly record: string;
  readonly field: string;
  readonly why: string;
}

/** What keeps a workbook from being read: a sentence without a subject, what to do, and the place where there is one. */
export class WorkbookFault extends Error {
  override readonly name = 'WorkbookFault';
  readonly fix: string;
  /** Sheet and cell, such as `BOM!B12`. */
  readonly place: string | undefined;

  constructor(what: string, fix: string, place?: string) {
    super(what);
    this.fix = fix;
    this.place = place;
  }
}

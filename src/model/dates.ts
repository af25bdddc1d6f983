/** Calendar dates after ISO 8601 at the precision known: `2019`, `2019-04` or `2019-04-17`. */
export type PartialDate = string;

const SHAPE = /^(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?$/u;

/** True for a real date of the Gregorian calendar at year, month or day precision. */
export function isPartialDate(text: string): boolean {
  const match = SHAPE.exec(text);
  if (!match) return false;
  const [, year, month, day] = match;
  if (month === undefined) return true;
  if (Number(month) < 1 || Number(month) > 12) return false;
  return day === undefined || (Number(day) >= 1 && Number(day) <= daysIn(Number(year), Number(month)));
}

function daysIn(year: number, month: number): number {
  return new Date(Date.UTC(year, month, 0)).getUTCDate();
}

/** First and last day a partial date may mean, each `YYYY-MM-DD`. */
export function dateRange(date: PartialDate): { readonly first: string; readonly last: string } {
  const [year, month, day] = date.split('-');
  if (day !== undefined) return { first: date, last: date };
  if (month !== undefined) {
    const last = String(daysIn(Number(year), Number(month))).padStart(2, '0');
    return { first: `${date}-01`, last: `${date}-${last}` };
  }
  return { first: `${year}-01-01`, last: `${year}-12-31` };
}

/** The year of a partial date. */
export function yearOf(date: PartialDate): number {
  return Number(date.slice(0, 4));
}

/** True only when `a` certainly lies before `b`; dates whose ranges overlap are in no certain order. */
export function certainlyBefore(a: PartialDate, b: PartialDate): boolean {
  return dateRange(a).last < dateRange(b).first;
}

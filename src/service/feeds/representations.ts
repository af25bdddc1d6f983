import { createHash } from 'node:crypto';
import type { ChartDocument } from '../../charts/chart.ts';
import { chartSvg, pngOf } from '../../charts/render.ts';
import { toCsv } from '../../export/csv.ts';
import { type Row, tablesOf } from '../../export/rows.ts';
import type { Feed } from '../../model/catalogue.ts';
import { CasebackError } from '../../model/problems.ts';
import { answerText } from '../server/answer-text.ts';
import type { Data } from './ask.ts';

/** Media types of the forms that a feed is given in, by the ending of their address. */
export const FORMS = {
  json: 'application/json; charset=utf-8',
  csv: 'text/csv; charset=utf-8; header=present',
  svg: 'image/svg+xml; charset=utf-8',
  png: 'image/png',
  'vl.json': 'application/json; charset=utf-8',
} as const;
export type Form = keyof typeof FORMS;

/** An answer in one of its forms, as it is sent. */
export interface Representation {
  readonly type: string;
  readonly body: Buffer;
  /** Of the bytes: equal in two forms only where these are equal. URL-safe base64 of 144 bits of SHA-256. */
  readonly digest: string;
}

/**
 * An answer in a form: whole as JSON, its rows as CSV, or the first chart or drawing that the question asks for as a picture or, of
 * a chart, as its Vega-Lite document.
 * @param mostBytes of JSON
 * @throws CasebackError NOT_FOUND where it has no picture, or no rows at the path of the feed; TOO_LARGE
 */
export async function represented(
  feed: Feed,
  data: Data,
  form: Form,
  mostBytes: number,
): Promise<Representation> {
  const body = Buffer.from(await bodyOf(feed, data, form, mostBytes));
  return { type: FORMS[form], body, digest: digestOf(form, body) };
}

/** Of bytes in a form. */
export function digestOf(form: string, body: Uint8Array): string {
  const digest = createHash('sha256').update(`${form}\n`).update(body).digest();
  return digest.subarray(0, 18).toString('base64url');
}

async function bodyOf(feed: Feed, data: Data, form: Form, mostBytes: number): Promise<string | Uint8Array> {
  switch (form) {
    case 'json': {
      const { id, title } = feed;
      const rows = feed.rows === undefined ? undefined : (rowsAt(data, feed.rows) ?? null);
      return answerText({ feed: { id, title }, data, ...(rows !== undefined && { rows }) }, mostBytes);
    }
    case 'csv':
      return toCsv(rowsOfFeed(feed, data));
    case 'svg':
      return svgOf(feed, data);
    case 'png':
      return pngOf(await svgOf(feed, data));
    case 'vl.json': {
      const picture = pictureIn(data);
      if (picture && 'document' in picture) return JSON.stringify(picture.document);
      throw new CasebackError('NOT_FOUND', `The feed "${feed.id}" has no chart. ${HOW_TO_CHART}`);
    }
    default:
      return form satisfies never;
  }
}

/**
 * The rows of the table that a feed names, or those of the first list of the first field.
 * @throws CasebackError NOT_FOUND where the answer has nothing at the path of the feed
 */
export function rowsOfFeed({ id, rows }: Feed, data: Data): readonly Row[] {
  if (rows === undefined) return tablesOf(data)[0]?.rows ?? [];
  const found = rowsAt(data, rows);
  if (found !== undefined) return tablesOf({ rows: found })[0].rows;
  throw new CasebackError(
    'NOT_FOUND',
    `The feed "${id}" has no rows at "${rows}"; its question must ask for what the path names`,
  );
}

/**
 * The items at a path of names: those of a list, or the nodes of a connection. Lists on the way are gone through. Undefined where
 * the answer has nothing of that name; empty where it is null.
 */
function rowsAt(data: Data, path: string): readonly unknown[] | undefined {
  let here: readonly unknown[] = [data];
  for (const name of path.split('.')) {
    const inside = here.flatMap((value) => (Array.isArray(value) ? value : [value])).filter(isGroup);
    if (inside.length > 0 && inside.every((value) => !(name in value))) return undefined;
    here = inside.map((value) => value[name]);
  }
  return here.flatMap((value) => {
    if (value === null || value === undefined) return [];
    if (!isGroup(value)) return value;
    return Array.isArray(value.nodes) ? value.nodes : [value];
  });
}

const isGroup = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const HOW_TO_CHART = 'Let its question ask for a chart, such as { trend(of: …) { chart { vegaLite } } }.';

async function svgOf({ id }: Feed, data: Data): Promise<string> {
  const picture = pictureIn(data);
  if (!picture)
    throw new CasebackError(
      'NOT_FOUND',
      `The feed "${id}" has no picture. ${HOW_TO_CHART} A drawing is asked for by its svg.`,
    );
  return 'svg' in picture ? picture.svg : chartSvg(picture.document);
}

type Picture = { readonly document: ChartDocument } | { readonly svg: string };

/** The first chart or drawing in an answer, depth first in the order of the question. */
export function pictureIn(value: unknown): Picture | undefined {
  if (Array.isArray(value)) {
    for (const item of value) {
      const found = pictureIn(item);
      if (found) return found;
    }
    return undefined;
  }
  if (!isGroup(value)) return undefined;
  const { vegaLite, svg } = value;
  if (isGroup(vegaLite)) return { document: vegaLite };
  if (typeof svg === 'string' && svg.startsWith('<')) return { svg };
  for (const inner of Object.values(value)) {
    const found = pictureIn(inner);
    if (found) return found;
  }
  return undefined;
}

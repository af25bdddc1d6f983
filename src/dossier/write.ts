import { Document, isMap, isScalar, isSeq, visit } from 'yaml';
import type { Catalogue } from '../model/catalogue.ts';
import type { Dossier } from '../model/dossier.ts';
import { formatQuantity, type Quantity } from '../model/quantity.ts';

/** Values that the schemas fill in by themselves; they need not stand in a file. */
const DEFAULTS: Readonly<Record<string, unknown>> = {
  visibility: 'published',
  condition: 'intact',
  printed: false,
  destructive: false,
  state: 'proposed',
  scope: 'device',
  strength: 0.8,
};
/** Short groups that read best on one line. */
const ON_ONE_LINE = new Set([
  'at',
  'body',
  'outline',
  'dimensions',
  'price',
  'between',
  'about',
  'basis',
  'leadsTo',
  'regulatoryIds',
  'candidates',
  'regions',
  'categories',
  'makes',
  'sides',
  'hazards',
  'succeeds',
  'restsOn',
  'check',
]);

/** A dossier as a file that an editor can go on writing, and that reads back to the same record. */
export function writeDossier(dossier: Dossier): string {
  return toYaml(dossier);
}

/** A catalogue as a file that reads back to the same records. */
export function writeCatalogue(catalogue: Catalogue): string {
  return toYaml(catalogue);
}

/** The same as JSON, for machines. */
export function writeJson(record: Dossier | Catalogue): string {
  return `${JSON.stringify(plain(record), null, 2)}\n`;
}

function toYaml(record: Dossier | Catalogue): string {
  const document = new Document(plain(record), { version: '1.2', schema: 'core' });
  visit(document, {
    Pair(_, { key, value }) {
      const name = isScalar(key) ? String(key.value) : '';
      if (!ON_ONE_LINE.has(name)) return;
      // Lists of groups keep a line for each group.
      if (isSeq(value) && value.items.some(isMap)) {
        for (const item of value.items) if (isMap(item)) item.flow = true;
      } else if (isMap(value) || isSeq(value)) value.flow = true;
    },
  });
  return document.toString({ lineWidth: 110, flowCollectionPadding: true, defaultStringType: 'PLAIN' });
}

/** Plain data in the form that files have: quantities as text, defaults and empty lists left out. */
function plain(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(plain);
  if (typeof value !== 'object' || value === null) return value;
  if (isQuantity(value)) return formatQuantity(value);
  const entries = Object.entries(value).filter(([key, member]) => !isDefault(key, member));
  return Object.fromEntries(entries.map(([key, member]) => [key, plain(member)]));
}

function isDefault(key: string, value: unknown): boolean {
  if (value === undefined || (Array.isArray(value) && value.length === 0)) return true;
  if (key === 'sides') return Array.isArray(value) && value.join() === 'top,bottom';
  if (key === 'parameters' || key === 'inputs') return Object.keys(value as object).length === 0;
  return Object.hasOwn(DEFAULTS, key) && DEFAULTS[key] === value;
}

function isQuantity(value: object): value is Quantity {
  const { value: number, unit } = value as Partial<Quantity>;
  return typeof number === 'number' && typeof unit === 'string';
}

import { comparedOf } from '../../compare/representative.ts';
import type { Row } from '../../export/rows.ts';
import { BODY_SITES, type Device } from '../../model/dossier.ts';
import { subjectByWord, subjectName } from '../../presence/asked.ts';
import { presenceOf } from '../../presence/presence.ts';
import { checkDeviceFilter, deviceMarks } from '../../questions/devices.ts';
import { countedIn } from '../../state/lists/component-columns.ts';
import { type DeviceFilter, type DeviceOrder, listDevices } from '../../state/lists/device-list.ts';
import type { State } from '../../state/state.ts';
import { recallOf } from '../../state/visibility/audience.ts';
import { counted } from '../answers/figures.ts';
import { visibilityText } from '../answers/visibility-text.ts';
import { defineCommand } from '../frame/command.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { checkRange } from '../frame/instant.ts';
import { choice, text, type ValuesOf } from '../frame/options.ts';

const HEADING = [
  ...['device', 'name', 'maker', 'released', 'body site'],
  ...['product line', 'specimens', 'components', 'visible'],
];
const ORDERS = ['released', 'name', 'maker', 'id'] as const;

const OPTIONS = {
  maker: text('ID', 'only devices of this maker'),
  productLine: text('ID', 'only devices of this product line'),
  bodySite: choice('SITE', BODY_SITES, { help: 'only devices worn there' }),
  from: text('DATE', 'only devices released then or later (ISO 8601 at any precision)'),
  to: text('DATE', 'only devices released then or earlier'),
  has: text(
    'X',
    'only devices that certainly or possibly have a term, such as PressureSensor, a part, or parts of a maker',
  ),
  order: choice('FIELD', ORDERS, { help: 'the order of the list', default: 'released' }),
};

export const command = defineCommand({
  name: 'devices',
  about:
    'Lists the devices of the archive, with how many specimens of each were opened and how many components the one has that stands for the device, the last one opened that was not damaged; "compare" counts the same. "presence" says what one of them has, "components" where it sits.',
  options: OPTIONS,
  uses: 'view',
  formats: ['table', 'csv', 'json', 'text'],
  examples: [
    'devices',
    'devices --maker tarn --from 2018',
    'devices --has PressureSensor --order name --format csv',
  ],

  async run(call) {
    const view = await call.view();
    const devices = listDevices(
      view,
      await filterOf(view, call.options),
      call.options.order.toUpperCase() as DeviceOrder,
    );
    const listed = devices.map((device) => lineOf(view, device));
    return {
      table: () => listed.map(rowOf),
      heading: HEADING,
      json: () => listed,
      messages: [counted(listed.length, 'device')],
    };
  },
});

/** @throws CasebackError for a maker, product line, part, term or date that there is not */
async function filterOf(
  view: State,
  { maker, productLine, bodySite, from, to, has }: ValuesOf<typeof OPTIONS>,
): Promise<DeviceFilter> {
  checkRange(from, to);
  const filter = {
    ...(maker === undefined ? {} : { makers: [maker] }),
    ...(productLine === undefined ? {} : { productLines: [productLine] }),
    ...(bodySite === undefined ? {} : { bodySites: [bodySite] }),
    ...(from === undefined ? {} : { releasedFrom: from }),
    ...(to === undefined ? {} : { releasedTo: to }),
  };
  checkDeviceFilter(view, filter);
  if (has === undefined) return filter;
  const subject = subjectByWord(view, has);
  if ('pattern' in subject)
    throw new UsageError(
      `${quoted(has)} is a named pattern; "caseback decisions --pattern ${has}" lists its devices`,
    );
  return { ...filter, among: (await presenceOf(view)).having(subjectName(view, subject)) };
}

function lineOf(view: State, device: Device) {
  const { id, name, maker, released, bodySite, productLine } = device;
  const specimens = [...view.specimensOf(id)];
  return {
    id,
    name,
    maker,
    released,
    bodySite,
    productLine,
    specimens: specimens.length,
    components: componentsOf(view, id),
    ...deviceMarks(view, id),
    recalled: view.audience === 'desk' ? recallOf(view.facts, id) : undefined,
  };
}

/** Components of the specimen that stands for a device, as comparisons count them. */
function componentsOf(view: State, id: string): number {
  const specimens = [...view.specimensOf(id)];
  // Dossiers are unpacked only where there is a choice.
  const [row] =
    specimens.length > 1 ? specimens.filter((one) => one.id === comparedOf(view, id).specimen.id) : specimens;
  return row ? countedIn(row.columns) : 0;
}

function rowOf(line: ReturnType<typeof lineOf>): Row {
  const { id, name, maker, released, bodySite, productLine, specimens, components } = line;
  return {
    device: id,
    name,
    maker,
    released,
    'body site': bodySite,
    'product line': productLine ?? '',
    specimens: String(specimens),
    components: String(components),
    ...visibilityText(line, line.recalled),
  };
}

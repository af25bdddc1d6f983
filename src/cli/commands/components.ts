import type { Row } from '../../export/rows.ts';
import { termFix } from '../../model/near-term.ts';
import { formatQuantity } from '../../model/quantity.ts';
import { isTerm } from '../../model/taxonomy.ts';
import { componentPins, componentsUnder, type ListedComponent } from '../../questions/contents.ts';
import type { PinOnNet } from '../../state/pins.ts';
import { resolve } from '../../state/resolve.ts';
import { counted, rounded } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { readBy } from '../frame/options.ts';

export const command = defineCommand({
  name: 'components',
  about:
    'What sits where: the components of a specimen, of the specimen that stands for a device, or of a board, with their values, what they most likely are and how sure that is. Places where nothing is fitted, and holes, marks, pads and bridges of the board itself, are listed and marked; they count as no component. One component by its id lists its pins with the nets that they are on.',
  arguments: [{ name: 'ID', help: 'a device, a specimen, a board or a component (device/specimen/local)' }],
  options: {
    category: readBy('TERM', 'only what most likely is of this term of the taxonomy or under it', termIn),
  },
  uses: 'view',
  formats: ['table', 'csv', 'json'],
  examples: [
    'components tarn-sennit-3/a --category Sensor',
    'components tarn-sennit-3/a --format csv',
    'components tarn-sennit-3/a/U1',
  ],

  async run(call) {
    const view = await call.view();
    const [id] = call.arguments;
    const one = resolve(view, id);
    if (one?.kind === 'Component') {
      const pins = componentPins(view, one.opened, one.thing);
      return {
        table: () => pins.map(pinRow),
        json: () => ({ component: one.id, pins: pins.map((pin) => ({ ...pin, net: pin.net?.id })) }),
        messages: [
          `${one.id}: ${counted(pins.length, 'pin')} known${
            one.thing.pins === undefined ? '' : `, ${one.thing.pins} counted`
          }`,
        ],
      };
    }
    const { specimen, components } = componentsUnder(view, id, call.options.category);
    const count = components.filter(({ isCounted }) => isCounted).length;
    const rest = components.length - count;
    return {
      table: () => components.map((each) => componentRow(each, rounded)),
      csv: () => components.map((each) => componentRow(each, String)),
      json: () => components,
      messages: [
        `${specimen.id}: ${counted(count, 'component')}${
          rest > 0 ? `, and ${counted(rest, 'place')} that ${rest === 1 ? 'counts' : 'count'} as none` : ''
        }`,
      ],
    };
  },
});

function termIn(written: string, option: string): string {
  if (isTerm(written)) return written;
  const fix = termFix(written);
  throw new UsageError(
    `${option}: ${quoted(written)} is not a term of the component taxonomy${fix ? `; ${fix}` : ''}`,
  );
}

function componentRow(
  { component, isCounted, category, part }: ListedComponent,
  written: (value: number) => string,
): Row {
  const { id, board, side, at, rotation, value, fitted, pins } = component;
  const number = (of: number | undefined) => (of === undefined ? '' : written(of));
  return {
    component: id,
    board: board ?? '',
    side: side ?? '',
    x: number(at?.x),
    y: number(at?.y),
    rotation: number(rotation),
    package: component.package ?? '',
    pins: number(pins),
    value: value ?? '',
    kind: category?.term ?? '',
    'kind sure': number(category?.probability),
    part: part?.id ?? '',
    'part sure': number(part?.probability),
    counts: isCounted ? 'yes' : fitted === false ? 'no, not fitted' : 'no, of the board',
  };
}

function pinRow({ number, name, direction, function: is, output, net }: PinOnNet): Row {
  return {
    pin: number ?? '',
    name: name ?? '',
    direction: direction ?? '',
    function: is ?? '',
    output: output ?? '',
    net: net?.id ?? '',
    label: net?.label ?? '',
    kind: net?.kind ?? '',
    voltage: net?.voltage ? formatQuantity(net.voltage) : '',
    bus: net?.bus ?? '',
  };
}

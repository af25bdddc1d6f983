import type { Row } from '../../export/rows.ts';
import { partIdOf } from '../../model/catalogue.ts';
import { lastOfId } from '../../model/ids.ts';
import { TERMS } from '../../model/taxonomy.ts';
import { namedByWord } from '../../presence/asked.ts';
import {
  type DevicePresence,
  presenceRow,
  specimenPresence,
  thingOf,
  together,
  type Verdict,
} from '../../presence/presence.ts';
import { resolved } from '../../state/resolve.ts';
import type { State } from '../../state/state.ts';
import { rounded } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { text } from '../frame/options.ts';

export const command = defineCommand({
  name: 'presence',
  about: `Without --of: every term of the taxonomy, part and maker of parts that the device certainly or possibly has. CERTAIN is a
probability of 0.95 or more, POSSIBLE one of 0.05 or more; less is ABSENT where every board of a specimen is recorded as
fully inventoried, otherwise NOT_OBSERVED. Of several specimens the maximum stands.`,
  arguments: [{ name: 'DEVICE', help: 'id of a device' }],
  options: {
    of: text(
      'X',
      'a term such as PressureSensor, a part such as quillon/QWR4416, or a maker such as quillon',
    ),
  },
  uses: 'view',
  formats: ['table', 'csv', 'json'],
  examples: ['presence tarn-sennit-3 --of Charger', 'presence tarn-sennit-3 --format csv'],

  async run(call) {
    const view = await call.view();
    const { id } = resolved(view, call.arguments[0], ['Device']);
    const { of } = call.options;
    const found = presences(view, id, of === undefined ? undefined : [namedByWord(view, of)]);
    return {
      table: () => found.map((one) => rowOf(one, rounded)),
      csv: () => found.map((one) => rowOf(one, String)),
      json: () => found,
    };
  },
});

interface Found extends DevicePresence {
  readonly of: string;
  readonly specimens: readonly { readonly specimen: string; readonly verdict: Verdict }[];
}

/** What a device has of the names asked about, or all that it certainly or possibly has. */
function presences(view: State, device: string, asked: readonly string[] | undefined): readonly Found[] {
  const rows = view.specimensOf(device).map((one) => ({ id: one.id, row: presenceRow(view, one) }));
  const makers = view.makers().filter(({ makes }) => makes.includes('parts'));
  const all = [...TERMS, ...view.parts().map(partIdOf).sort(), ...makers.map(({ id }) => id).sort()];
  return (asked ?? all).flatMap((of): Found[] => {
    const thing = thingOf(view, of);
    const presence = together(
      rows.map(({ row }) => row),
      thing,
    );
    const { verdict } = presence;
    if (!asked && verdict !== 'CERTAIN' && verdict !== 'POSSIBLE') return [];
    const specimens = rows.map(({ id, row }) => ({
      specimen: id,
      verdict: specimenPresence(row, thing).verdict,
    }));
    return [{ of, ...presence, specimens }];
  });
}

function rowOf(found: Found, written: (value: number) => string): Row {
  const { of, verdict, probability, expected, certain, likely, possible, specimens, revisionsDiffer } = found;
  return {
    of,
    verdict,
    probability: written(probability),
    expected: written(expected),
    certain: String(certain),
    likely: String(likely),
    possible: String(possible),
    specimens: specimens.map((one) => `${lastOfId(one.specimen)} ${one.verdict}`).join(', '),
    'revisions differ': revisionsDiffer ? 'yes' : 'no',
  };
}

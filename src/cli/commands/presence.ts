import type { Row } from '../../export/rows.ts';
import { partIdOf } from '../../model/catalogue.ts';
import { lastOfId } from '../../model/ids.ts';
import { TERMS } from '../../model/taxonomy.ts';
import { subjectByWord } from '../../presence/asked.ts';
import { type PresenceAnswer, presenceAnswer, presenceOfName } from '../../questions/presence.ts';
import { resolved } from '../../state/resolve.ts';
import type { State } from '../../state/state.ts';
import { rounded } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { UsageError } from '../frame/exit.ts';
import { flag, text } from '../frame/options.ts';

export const command = defineCommand({
  name: 'presence',
  about:
    'Without --of: every term of the taxonomy, part and maker of parts that the device certainly or possibly has; with --patterns every named pattern instead, whatever its verdict. CERTAIN is a probability of 0.95 or more, POSSIBLE one of 0.05 or more; less is ABSENT where it was looked for: every board of a specimen is recorded as fully inventoried, the bench saw what lies off the boards, and for a pattern the connections that it needs were traced. Otherwise it is NOT_OBSERVED. Of several specimens the maximum stands. The table of all gives the reason of no row, which --of and --format csv do.',
  arguments: [{ name: 'DEVICE', help: 'id of a device' }],
  options: {
    of: text(
      'X',
      'a term such as PressureSensor, a part such as quistle/QWR4T16, a maker such as quistle, or a named pattern such as always-on-domain',
    ),
    patterns: flag('every named pattern of the library, with the reason for each verdict'),
  },
  uses: 'view',
  formats: ['table', 'csv', 'json'],
  examples: [
    'presence tarn-sennit-3 --of Charger',
    'presence tarn-sennit-3 --of structural-antenna --format json',
    'presence tarn-sennit-3 --patterns',
    'presence tarn-sennit-3 --format csv',
  ],

  async run(call) {
    const view = await call.view();
    const { id } = resolved(view, call.arguments[0], ['Device']);
    const { of, patterns } = call.options;
    if (of !== undefined && patterns)
      throw new UsageError('--of and --patterns exclude each other; give one');
    const found = patterns
      ? await patternsOf(view, id)
      : of === undefined
        ? all(view, id)
        : [{ of, ...(await presenceAnswer(view, id, subjectByWord(view, of))) }];
    const rowOf = patterns ? patternRow : presenceRowOf;
    return {
      table: () => found.map((one) => (patterns || of !== undefined ? rowOf(one, rounded) : shortRow(one))),
      csv: () => found.map((one) => rowOf(one, String)),
      json: () => found,
    };
  },
});

interface Found extends PresenceAnswer {
  readonly of: string;
}

/** All that a device certainly or possibly has. */
function all(view: State, device: string): readonly Found[] {
  const makers = view.makers().filter(({ makes }) => makes.includes('parts'));
  const names = [...TERMS, ...view.parts().map(partIdOf).sort(), ...makers.map(({ id }) => id).sort()];
  return names.flatMap((of): Found[] => {
    const found = presenceOfName(view, device, of);
    return found.verdict === 'CERTAIN' || found.verdict === 'POSSIBLE' ? [{ of, ...found }] : [];
  });
}

async function patternsOf(view: State, device: string): Promise<readonly Found[]> {
  const { searchablePatterns } = await import('../../patterns/searchable.ts');
  const found: Found[] = [];
  for (const { id } of searchablePatterns(view).toSorted((a, b) => (a.id < b.id ? -1 : 1)))
    found.push({ of: id, ...(await presenceAnswer(view, device, { pattern: id })) });
  return found;
}

function patternRow({ of, verdict, probability, why }: Found, written: (value: number) => string): Row {
  return { of, verdict, probability: written(probability), why };
}

/** A row that fits a terminal: without the reason, and with two columns only where they say something. */
function shortRow(found: Found): Row {
  const { why: _, likely: __, 'revisions differ': differ, ...row } = presenceRowOf(found, rounded);
  return differ === 'yes' ? { ...row, specimens: `${row.specimens} (revisions differ)` } : row;
}

function presenceRowOf(found: Found, written: (value: number) => string): Row {
  const { of, verdict, probability, expected, certain, likely, possible, specimens, revisionsDiffer, why } =
    found;
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
    why,
  };
}

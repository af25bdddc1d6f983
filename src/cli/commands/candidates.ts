import { toTable } from '../../export/table.ts';
import type { CandidateSet } from '../../identification/conformal.ts';
import { spokenDisagreement } from '../../identification/disagreements.ts';
import type { KindOdds } from '../../identification/kinds.ts';
import { type ChipAnswer, candidatesOf, type Placed } from '../../identification/questions.ts';
import { partIdOf } from '../../model/catalogue.ts';
import { candidateSet } from '../../questions/identification.ts';
import { readPhoto } from '../../questions/photo-reading.ts';
import type { State } from '../../state/state.ts';
import { fixed } from '../../text/rounding.ts';
import { spokenSet } from '../answers/candidate-set.ts';
import { ifConfirmedTable, photoReadingJson, suggestionSentence } from '../answers/photo-reading.ts';
import { defineCommand } from '../frame/command.ts';
import { CONFUSION_OPTION } from '../frame/common-options.ts';
import { decimal, flag, whole } from '../frame/options.ts';
import { Progress } from '../frame/progress.ts';

/** Classes, roles and steps that a text tells of; json has all. */
const SHOWN = 5;
/** A probability below which a class reads 0.00. */
const MIN_SHOWN = 0.005;
/** A part as likely as this is named before its class. */
const LIKELY = 0.5;

export const command = defineCommand({
  name: 'candidates',
  about:
    'What a component may be: each part with its probability and the weight of every piece of evidence in decibans, for (+) and against (-), compared with "none in the catalogue". 10 decibans make a part ten times as likely. Where no part is likely, what a chip does for its neighbours and which class it is come first, with what would settle it.',
  arguments: [{ name: 'COMPONENT', help: 'id of the component, device/specimen/local' }],
  options: {
    first: whole('N', { help: 'how many parts to show', min: 1, max: 100, default: 5 }),
    coverage: decimal('P', {
      help: 'also the candidates that hold the truth with this coverage, such as 0.9, whatever the odds are worth (split conformal prediction, held out by device)',
      above: 0,
    }),
    onPhotos: flag(
      'also what it would be if the marking were confirmed that a program reads on its photos; what is recorded counts as before',
    ),
    ...CONFUSION_OPTION,
  },
  uses: 'view',
  formats: ['text', 'table', 'csv', 'json'],
  examples: [
    'candidates tarn-sennit-3/a/U3',
    'candidates tarn-sennit-3/a/U3 --first 1 --format json',
    'candidates tarn-sennit-3/a/U3 --coverage 0.9',
  ],

  async run(call) {
    const [id] = call.arguments;
    const view = await call.view();
    const found = await candidatesOf(view, id);
    const { odds, state, kinds, chip, disagreement } = found;
    const { coverage } = call.options;
    const set = coverage === undefined ? undefined : await settledSet(view, found, coverage);
    const { photos } = await call.archive();
    const read = call.options.onPhotos ? await readPhoto(view, photos, { of: id }) : undefined;
    const parts = odds.candidates
      .slice(0, call.options.first)
      .map(({ part, probability, priorDecibans }) => ({
        part: partIdOf(part),
        probability,
        priorDecibans,
        evidence: odds.evidenceFor(partIdOf(part)),
      }));
    const table = () => [
      ...parts.map(({ part, probability, priorDecibans, evidence }) => ({
        part,
        probability: fixed(probability, 4),
        prior: signed(priorDecibans),
        ...Object.fromEntries(evidence.map(({ kind, decibans }) => [kind, signed(decibans)])),
      })),
      { part: '(none in the catalogue)', probability: fixed(odds.none, 4) },
    ];
    const isNamed = (parts[0]?.probability ?? 0) > LIKELY;
    // Beside a part that is likely the circuit's own answer must not read as a second one.
    const byCircuit = chip && (isNamed ? `by what hangs on it alone: ${chip.sentence}` : chip.sentence);
    return {
      text: () =>
        [
          ...(chip && !isNamed ? classesOf(chip, kinds) : []),
          toTable(table()),
          ...(read ? [ifConfirmedTable(read, call.options.first)] : []),
        ].join('\n'),
      table,
      json: () => ({
        ...{
          component: id,
          state,
          ...(chip && { ...chip, sentence: byCircuit, classes: chip.classes.map(classNamed) }),
          kinds,
          parts,
          none: odds.none,
          ...(disagreement && { disagreement }),
        },
        ...(read === undefined ? {} : { onPhotos: photoReadingJson(read, call.options.first) }),
        ...(set === undefined ? {} : { set: { ...set, parts: set.parts.map(({ part }) => partIdOf(part)) } }),
      }),
      messages: [
        `${id}: ${state.replaceAll('-', ' ')}; weights in decibans`,
        ...(disagreement ? [spokenDisagreement(disagreement)] : []),
        ...(set === undefined ? [] : [spokenSet(set)]),
        ...(byCircuit && isNamed ? [byCircuit] : []),
        ...(read === undefined ? [] : [suggestionSentence(read)]),
      ],
    };
  },
});

/** The sentence, the classes with the reasons, roles, and what would settle it. */
function classesOf(
  { sentence, classes, roles, whatWouldSettleIt }: ChipAnswer,
  kinds: readonly KindOdds[],
): readonly string[] {
  const why = (terms: readonly { readonly term: string }[]) =>
    kinds.find(({ term }) => term === terms[0]?.term)?.evidence ?? [];
  return [
    `${sentence}.\n`,
    toTable(
      classes
        .filter(({ probability }) => probability >= MIN_SHOWN)
        .slice(0, SHOWN)
        .map(({ is, probability, kinds: of }) => ({
          class: is,
          probability: fixed(probability, 2),
          why: why(of)
            .map(({ description, decibans }) => `${description} (${signed(decibans)})`)
            .join('; '),
        })),
    ),
    ...(roles.length === 0
      ? []
      : [
          toTable(
            roles.slice(0, SHOWN).map(({ does, to, probability, classes: of }) => ({
              'may do': `${does} ${to}`,
              probability: fixed(probability, 2),
              as: of.join(', '),
            })),
          ),
        ]),
    ...(whatWouldSettleIt.length === 0
      ? []
      : [
          toTable(
            whatWouldSettleIt.map(({ action, gainBits, method, tells }) => ({
              'would settle it': method.destructive ? `${action} (DESTRUCTIVE)` : action,
              bits: fixed(gainBits, 2),
              minutes: String(method.minutes),
              tells: tells ?? '',
            })),
          ),
        ]),
  ];
}

async function settledSet(view: State, placed: Placed, coverage: number): Promise<CandidateSet> {
  const bar = new Progress('asking about settled components, %', 100);
  const onProgress = (fraction: number) => bar.update(Math.floor(100 * fraction));
  return candidateSet(view, placed, coverage, { onProgress }).finally(() => bar.end());
}

/** A class without what its odds are worked out from. */
function classNamed({ is, probability, kinds }: ChipAnswer['classes'][number]) {
  return { is, probability, kinds: kinds.map((one) => ({ term: one.term, probability: one.probability })) };
}

function signed(decibans: number): string {
  return `${decibans >= 0 ? '+' : ''}${fixed(decibans, 1)}`;
}

import { describeThing } from '../../evidence/named.ts';
import { observationText } from '../../evidence/support.ts';
import type { Row } from '../../export/rows.ts';
import { toTable } from '../../export/table.ts';
import { partIdOf } from '../../model/catalogue.ts';
import { BODY_SIDES, type Candidate } from '../../model/dossier.ts';
import { pinOf, thingId } from '../../model/ids.ts';
import type { Net } from '../../model/net.ts';
import { formatQuantity } from '../../model/quantity.ts';
import { isMarked } from '../../model/visibility.ts';
import type { ComponentGlance } from '../../questions/component.ts';
import type { State } from '../../state/state.ts';
import { fixed } from '../../text/rounding.ts';
import { rounded } from './figures.ts';
import { visibilityText } from './visibility-text.ts';

/** Parts by the evidence, kinds and steps shown. */
const MAX_SHOWN = 3;
/** Other members of a net shown. */
const MAX_MEMBERS = 6;

/** One aspect of a component: what it is, the value, and where that comes from. */
export interface Aspect {
  readonly of: 'seen' | 'identified' | 'evidence' | 'judged' | 'joined' | 'photo' | 'next';
  readonly what: string;
  readonly value: string;
  readonly by: string;
}

/** Headings of the aspects, in their order. */
const TITLES: Readonly<Record<Aspect['of'], string>> = {
  seen: 'Seen',
  identified: 'Identified as',
  evidence: 'By the evidence',
  judged: 'Judged by editors',
  joined: 'Joined to',
  photo: 'Photos',
  next: 'What to look at next',
};
/** What stands where an aspect has nothing. */
const NOTHING: Partial<Record<Aspect['of'], string>> = {
  identified: 'Nobody has identified it yet: caseback identify',
  joined: 'Nothing is traced from it yet',
};
const FALLEN =
  'Its identification counts for nothing: it was withdrawn, or all that it rests on was withdrawn or corrected. Identify it anew: caseback identify';

/** Everything that a glance shows, an aspect a line. */
export function aspectsOf(view: State, glance: ComponentGlance): readonly Aspect[] {
  return [
    ...seen(glance),
    ...identified(glance),
    ...evidence(glance),
    ...glance.judgements.map(
      ({ part, decibans, by, reason }): Aspect => ({
        of: 'judged',
        what: part,
        value: `${decibans > 0 ? '+' : ''}${decibans} dB`,
        by: `${by}: ${reason}`,
      }),
    ),
    ...joined(view, glance),
    ...glance.photos.map(
      ({ id, caption, credit, file }): Aspect => ({
        of: 'photo',
        what: id,
        value: caption ?? file ?? '',
        by: credit,
      }),
    ),
    ...glance.next
      .filter(({ gainBits }) => gainBits > 0)
      .slice(0, MAX_SHOWN)
      .map(
        ({ action, method, gainBits }): Aspect => ({
          of: 'next',
          what: method.destructive ? `${action} (DESTRUCTIVE)` : action,
          value: `${fixed(gainBits, 3)} bits`,
          by: `${method.minutes} min`,
        }),
      ),
  ];
}

/** Aspects in tables, each group under its heading. */
export function glanceText(
  { id, device, specimen, identification, earlier }: ComponentGlance,
  aspects: readonly Aspect[],
): string {
  const groups = Object.entries(TITLES).map(([of, title]) => {
    const rows = aspects
      .filter((one) => one.of === of)
      .map(({ what, value, by }): Row => ({ [title]: what, '': value, ' ': by }));
    const isFallen = of === 'identified' && identification === undefined && earlier > 0;
    const nothing = isFallen ? FALLEN : NOTHING[of as Aspect['of']];
    if (rows.length > 0) return `\n${toTable(rows)}`;
    return nothing === undefined ? '' : `\n${nothing}\n`;
  });
  return `${id}: ${device.name}, specimen ${specimen}\n${groups.join('')}`;
}

function seen({ component, listed, holds, observations }: ComponentGlance): readonly Aspect[] {
  const { board, side, at, rotation, marking, reading, body, pins, value, appears, inside, note } = component;
  const size =
    body &&
    BODY_SIDES.map((one) => body[one])
      .filter((one) => one !== undefined)
      .join(' x ');
  const place = [
    board ?? 'off the boards',
    side,
    at && `x ${rounded(at.x)} mm, y ${rounded(at.y)} mm`,
    rotation === undefined ? undefined : `turned ${rounded(rotation)}°`,
  ];
  const fields: readonly (readonly [string, string | undefined])[] = [
    ['place', place.filter((one) => one !== undefined).join(', ')],
    ['inside', inside],
    ['holds', holds.join(', ') || undefined],
    ['counts', listed.isCounted ? undefined : 'as no component'],
    [
      'marking',
      marking === undefined
        ? undefined
        : `${marking.replaceAll('\n', ' / ')}${reading === undefined ? '' : `, read with ${reading}`}`,
    ],
    ['package', component.package],
    ['pins', pins === undefined ? undefined : String(pins)],
    ['body', size && `${size} mm`],
    ['value', value],
    ['looks like', appears],
    ['note', note],
  ];
  return [
    ...fields.flatMap(([what, text]): readonly Aspect[] =>
      text === undefined ? [] : [{ of: 'seen', what, value: text, by: 'dossier' }],
    ),
    ...observations.map(({ observation, correctedBy }): Aspect => {
      const { id, by, on, method, withdrawn, suggestion } = observation;
      const stands = withdrawn
        ? ` (withdrawn: ${withdrawn.reason})`
        : correctedBy === undefined
          ? ''
          : ` (corrected by ${correctedBy})`;
      return {
        of: 'seen',
        what: id,
        value: `${observationText(observation)}${stands}`,
        by: [by, on, method, suggestion && `suggested as "${suggestion.marking}" by ${suggestion.by}`]
          .filter((one) => one !== undefined)
          .join(', '),
      };
    }),
  ];
}

function identified({ identification }: ComponentGlance): readonly Aspect[] {
  if (!identification) return [];
  const { candidates, state, basis, by, on, reason } = identification;
  const seen = isMarked(identification) ? visibilityText(identification).visible : undefined;
  const support = basis.length > 0 ? `by ${basis.join(', ')}` : 'without observations';
  const who = [by, on, state, seen, support, reason];
  return candidates.map((candidate, i) => ({
    of: 'identified',
    what: calledBy(candidate),
    value: String(candidate.probability),
    by: i === 0 ? who.filter((one) => one !== undefined).join(', ') : '',
  }));
}

function calledBy({ part, category, maker }: Candidate): string {
  return part ?? [category, maker && `of ${maker}`].filter((one) => one !== undefined).join(' ');
}

function evidence({ candidates }: ComponentGlance): readonly Aspect[] {
  if (!candidates) return [];
  const { odds, state } = candidates;
  // Where a part stands out, its kind follows.
  const kinds = state === 'all-but-certain' ? [] : candidates.kinds;
  return [
    ...odds.candidates.slice(0, MAX_SHOWN).map(
      ({ part, probability }): Aspect => ({
        of: 'evidence',
        what: partIdOf(part),
        value: fixed(probability, 4),
        by: odds
          .evidenceFor(partIdOf(part))
          .toSorted((a, b) => Math.abs(b.decibans) - Math.abs(a.decibans))
          .slice(0, MAX_SHOWN)
          .map(({ kind, decibans }) => `${kind} ${decibans >= 0 ? '+' : ''}${fixed(decibans, 1)} dB`)
          .join(', '),
      }),
    ),
    { of: 'evidence', what: '(none in the catalogue)', value: fixed(odds.none, 4), by: '' },
    ...kinds.slice(0, MAX_SHOWN).map(
      ({ term, probability, evidence: [why] }): Aspect => ({
        of: 'evidence',
        what: `kind: ${term}`,
        value: fixed(probability, 4),
        by: why?.description ?? 'class letters and package',
      }),
    ),
  ];
}

function joined(view: State, { component, specimen, pins, connections }: ComponentGlance): readonly Aspect[] {
  return [
    ...pins.flatMap(({ number, name, net }): readonly Aspect[] =>
      net
        ? [
            {
              of: 'joined',
              what: [number, name].filter((one) => one !== undefined).join(' ') || 'some pin',
              value: netText(net),
              by: othersOn(net, component.id),
            },
          ]
        : [],
    ),
    ...connections.map(({ between: [a, b], medium, bus, lines, basis }): Aspect => {
      const other = a === component.id ? b : a;
      const how = [medium, bus, lines === undefined ? undefined : `${lines} lines`];
      const is = describeThing(view, thingId(specimen, other))?.description ?? other;
      return {
        of: 'joined',
        what: other,
        value: how.filter((one) => one !== undefined).join(', '),
        by: [is, basis.length > 0 ? `by ${basis.join(', ')}` : undefined]
          .filter((one) => one !== undefined)
          .join('; '),
      };
    }),
  ];
}

function netText({ id, label, kind, voltage, bus }: Net): string {
  const how = [kind, voltage && formatQuantity(voltage), bus].filter((one) => one !== undefined);
  return `${label ?? id} (${how.join(', ')})`;
}

function othersOn({ pins }: Net, component: string): string {
  const others = [...new Set(pins.map((pin) => pinOf(pin).component))].filter((one) => one !== component);
  const more = others.length > MAX_MEMBERS ? ` and ${others.length - MAX_MEMBERS} more` : '';
  return `${others.slice(0, MAX_MEMBERS).join(', ')}${more}`;
}

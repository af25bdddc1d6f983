import type { Observation } from '../../model/dossier.ts';
import { formatQuantity } from '../../model/quantity.ts';
import { orderFreeText } from '../../text/member-order.ts';
import type { DossierRule } from './context.ts';

/** An observation says what was seen, in the field that its kind is read by; it can never be completed later. */
export const observationsSaySomething: DossierRule = (document, report) => {
  document.dossier.observations.forEach((observation, i) => {
    const { id, kind, marking, value, text, leadsTo, photo } = observation;
    const path = ['observations', i];
    if ([marking, value, text, leadsTo, photo].every((one) => one === undefined)) {
      if (kind === 'marking')
        report(document, path, `"${id}" is an observation of a marking, but gives no marking`, NO_MARKING);
      else report(document, path, `"${id}" does not say what was seen`, `add ${fieldOf(kind)}`);
    }
    if (value !== undefined && value.value <= 0 && (kind === 'body-size' || kind === 'pin-count'))
      report(
        document,
        [...path, 'value'],
        `"${id}" gives ${formatQuantity(value)} as ${kind === 'pin-count' ? 'a number of pins' : 'a size'}`,
        'write it as measured, more than 0',
      );
  });
};

/** What a program suggests is one reading of one photo. */
export const suggestionsHavePhotos: DossierRule = (document, report) => {
  document.dossier.observations.forEach(({ id, kind, marking, photo, suggestion }, i) => {
    if (!suggestion || (kind === 'marking' && marking !== undefined && photo !== undefined)) return;
    report(
      document,
      ['observations', i, 'suggestion'],
      `"${id}" gives what a program suggested, but is no marking read on a photo`,
      'give kind: marking, the marking as confirmed, and photo; or leave suggestion out',
    );
  });
};

const NO_MARKING =
  'add marking, with "?" for each character that cannot be read; or say in words (text) what was read where';

/** The field that an observation of a kind is read by. */
function fieldOf(kind: Observation['kind']): string {
  if (kind === 'trace') return 'leadsTo';
  return kind === 'body-size' || kind === 'pin-count' || kind === 'measurement' || kind === 'probe'
    ? 'value'
    : 'text';
}

/** The same seen twice is recorded twice only by mistake. */
export const observationsAreRecordedOnce: DossierRule = (document, report) => {
  const seen = new Map<string, string>();
  document.dossier.observations.forEach(({ id, withdrawn, ...said }, i) => {
    if (withdrawn || said.corrects !== undefined) return;
    const key = orderFreeText(said);
    const before = seen.get(key);
    if (before !== undefined) {
      const what = `observation "${id}" says the same as "${before}"`;
      report(
        document,
        ['observations', i],
        what,
        'leave one out, or say how and when it was seen again',
        'caution',
      );
    }
    seen.set(key, before ?? id);
  });
};

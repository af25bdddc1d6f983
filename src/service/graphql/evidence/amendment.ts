import { type Amendment, amendmentSchema } from '../../../model/correction.ts';
import { IDENTIFICATION_STATES, OBSERVATION_KINDS } from '../../../model/dossier.ts';
import { lastOfId, specimenOfId } from '../../../model/ids.ts';
import { CasebackError } from '../../../model/problems.ts';
import { recordOf } from '../changes/input.ts';
import type * as Api from '../resolver-types.ts';
import { enumWord, onlyGiven } from '../words.ts';

/**
 * The change that an input asks for.
 * @throws CasebackError BAD_INPUT with every problem
 */
export function amendmentOf(input: Api.AmendmentInput): Amendment {
  onlyGiven('change', input, ['identify', 'withdraw', 'observe', 'value']);
  return recordOf(amendmentSchema, written(input), 'change');
}

function written({ identify, withdraw, observe, value }: Api.AmendmentInput): object {
  if (identify) {
    const { component, state, ...rest } = identify;
    const specimen = specimenOfId(component);
    const word = enumWord(IDENTIFICATION_STATES, state);
    return { identify: { ...rest, specimen, component: lastOfId(component), state: word } };
  }
  if (observe) {
    const kind = enumWord(OBSERVATION_KINDS, observe.observation.kind);
    return { observe: { ...observe.observation, kind, specimen: observe.specimen } };
  }
  return value ? { value: rightValue(value) } : { withdraw: { observation: withdraw } };
}

function rightValue({ of, field, ...kinds }: Api.CorrectedValueInput): object {
  const given = Object.values(kinds).filter((one) => one !== null && one !== undefined);
  if (given.length > 1)
    throw new CasebackError('BAD_INPUT', 'give only one of text, number, quantity, flag and list');
  return { of, field, is: given[0] };
}

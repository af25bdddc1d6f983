import { type Amendment, amendmentSchema } from '../../model/correction.ts';
import { IDENTIFICATION_STATES, OBSERVATION_KINDS } from '../../model/dossier.ts';
import { lastOfId, specimenOfId } from '../../model/ids.ts';
import { CasebackError } from '../../model/problems.ts';
import { enumWord } from '../base/enums.ts';
import { recordOf } from '../changes/input.ts';

export interface AmendmentInput {
  readonly identify?: { readonly component: string; readonly state: string } | null;
  readonly withdraw?: string | null;
  readonly observe?: { readonly specimen: string; readonly observation: { readonly kind: string } } | null;
  readonly value?: ValueInput | null;
}

interface ValueInput {
  readonly of: string;
  readonly field: string;
  readonly text?: string | null;
  readonly number?: number | null;
  readonly quantity?: object | null;
  readonly flag?: boolean | null;
}

/**
 * The change that an input asks for.
 * @throws CasebackError BAD_INPUT with every problem
 */
export function amendmentOf(input: AmendmentInput): Amendment {
  const given = (Object.keys(input) as (keyof AmendmentInput)[]).filter((name) => input[name] != null);
  if (given.length !== 1) {
    const what = given.length === 0 ? 'nothing is given' : `${given.join(' and ')} are given`;
    throw new CasebackError(
      'BAD_INPUT',
      `${what}; give exactly one of identify, withdraw, observe and value`,
    );
  }
  return recordOf(amendmentSchema, written(input), 'change');
}

function written({ identify, withdraw, observe, value }: AmendmentInput): object {
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

function rightValue({ of, field, ...kinds }: ValueInput): object {
  const given = Object.values(kinds).filter((one) => one !== null && one !== undefined);
  if (given.length > 1)
    throw new CasebackError('BAD_INPUT', 'give only one of text, number, quantity and flag');
  return { of, field, is: given[0] };
}

import { CasebackError } from '../model/problems.ts';
import type { TrendQuestion } from './answer.ts';

/** @throws CasebackError BAD_INPUT for parts of a question that do not go together */
export function checkQuestion({ of, by, edges, currency }: TrendQuestion): void {
  if (edges && by !== 'price-band')
    throw bad('edges separate price bands; ask by price band, or leave them out');
  if (currency && !/^[A-Z]{3}$/u.test(currency))
    throw bad(`"${currency}" is not a valid currency code; write for example EUR (ISO 4217)`);
  const isPrice = 'quantity' in of && 'device' in of.quantity && of.quantity.device === 'price';
  if (currency && by !== 'price-band' && !isPrice)
    throw bad('currency applies to prices only; ask for the price or by price band, or leave it out');
}

function bad(message: string): CasebackError {
  return new CasebackError('BAD_INPUT', message);
}

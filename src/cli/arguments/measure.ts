import type { Measure } from '../../trends/answer.ts';
import { DEVICE_QUANTITIES, SUBJECT_KINDS } from '../../trends/asked.ts';
import type { Quantity } from '../../trends/quantity.ts';
import type { Subject } from '../../trends/subject.ts';
import { quoted, UsageError } from '../frame/exit.ts';

/**
 * A measure as written on the command line, such as `category:PressureSensor` or `quantity:capacity:Battery`.
 * @throws UsageError that says how measures are written
 */
export function measureOf(written: string): Measure {
  const cut = written.indexOf(':');
  const kind = written.slice(0, Math.max(cut, 0));
  const what = written.slice(cut + 1);
  if (cut > 0 && what !== '') {
    if ((SUBJECT_KINDS as readonly string[]).includes(kind)) {
      return { share: { [kind]: what } as unknown as Subject };
    }
    if (kind === 'count') return { count: what };
    if (kind === 'quantity') return { quantity: quantityOf(what) };
  }
  throw new UsageError(
    `${quoted(written)} is not a valid measure; write ${SUBJECT_KINDS.map((one) => `${one}:…`).join(', ')}, count:… or quantity:…`,
  );
}

function quantityOf(what: string): Quantity {
  const device = DEVICE_QUANTITIES.find((one) => one === what);
  if (device) return { device };
  const [parameter, of, ...more] = what.split(':');
  if (parameter && of && more.length === 0) return { parameter, of };
  throw new UsageError(
    `${quoted(what)} is not a valid quantity; write ${DEVICE_QUANTITIES.join(', ')}, or a parameter and a category as capacity:Battery`,
  );
}

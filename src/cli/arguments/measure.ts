import type { Measure } from '../../trends/answer.ts';
import { DEVICE_QUANTITIES, type DeviceQuantity, type Quantity } from '../../trends/quantity.ts';
import type { Subject } from '../../trends/subject.ts';
import { quoted, UsageError } from '../frame/exit.ts';

const SUBJECTS = ['pattern', 'decision', 'category', 'maker', 'part', 'text'] as const;

/**
 * A measure as written on the command line, such as `category:PressureSensor` or `quantity:capacity:Battery`.
 * @throws UsageError that says how measures are written
 */
export function measureOf(written: string): Measure {
  const cut = written.indexOf(':');
  const kind = written.slice(0, Math.max(cut, 0));
  const what = written.slice(cut + 1);
  if (cut > 0 && what !== '') {
    if ((SUBJECTS as readonly string[]).includes(kind)) {
      return { share: { [kind]: what } as unknown as Subject };
    }
    if (kind === 'count') return { count: what };
    if (kind === 'quantity') return { quantity: quantityOf(what) };
  }
  throw new UsageError(
    `${quoted(written)} is not a valid measure; write ${SUBJECTS.map((one) => `${one}:…`).join(', ')}, count:… or quantity:…`,
  );
}

function quantityOf(what: string): Quantity {
  if ((DEVICE_QUANTITIES as readonly string[]).includes(what)) return { device: what as DeviceQuantity };
  const [parameter, of, ...more] = what.split(':');
  if (parameter && of && more.length === 0) return { parameter, of };
  throw new UsageError(
    `${quoted(what)} is not a valid quantity; write ${DEVICE_QUANTITIES.join(', ')}, or a parameter and a category as capacity:Battery`,
  );
}

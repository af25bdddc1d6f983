import { addressRules } from '../../service/webhooks/addresses.ts';
import { WebhookStore } from '../../service/webhooks/store.ts';
import { webhookTables } from '../../service/webhooks/tables.ts';
import { Webhooks } from '../../service/webhooks/webhooks.ts';
import type { Place } from './data-folder.ts';

interface Asked {
  readonly webhookHttp: readonly string[] | undefined;
  readonly webhookRanges: readonly string[] | undefined;
}

/**
 * Webhooks of an archive, which lie where its journal does: in the database or in the folder. The caller closes them.
 * @throws CasebackError BAD_INPUT for options that cannot be read
 */
export function webhooksOf({ folder, database }: Place, { webhookHttp, webhookRanges }: Asked): Webhooks {
  const rules = addressRules(
    webhookHttp ?? written(process.env.WEBHOOK_HTTP),
    webhookRanges ?? written(process.env.WEBHOOK_RANGES),
  );
  const store = new WebhookStore(webhookTables({ folder, ...(database !== undefined && { database }) }));
  return new Webhooks(store, rules);
}

const written = (value = '') => value.split(',').map((one) => one.trim());

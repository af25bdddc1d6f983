import { addressRules } from '../../service/webhooks/addresses.ts';
import { WebhookStore } from '../../service/webhooks/store.ts';
import { webhookTables } from '../../service/webhooks/tables.ts';
import { Webhooks } from '../../service/webhooks/webhooks.ts';
import type { Place } from './data-folder.ts';
import { list } from './options.ts';

/** Options about where messages of webhooks may go besides public addresses under https. */
export const WEBHOOK_OPTIONS = {
  webhookHttp: list(
    'ORIGIN,...',
    'origins that webhooks may reach by http, such as http://desk.lan:8080 (default: WEBHOOK_HTTP, else none)',
  ),
  webhookRanges: list(
    'RANGE,...',
    'addresses and ranges that are not public and that webhooks may reach, such as 10.20.0.0/16 (default: WEBHOOK_RANGES, else none)',
  ),
};

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

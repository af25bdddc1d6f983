import { citationText } from '../../citation/csl.ts';
import { archiveCitation, citationOf } from '../../questions/citation.ts';
import { defineCommand } from '../frame/command.ts';

export const command = defineCommand({
  name: 'cite',
  about:
    'How to cite a source or a publication, or, without an id, the archive itself; with --as-of the archive as it stood. csl is CSL-JSON, which reference managers read. A running service gives answers of feeds an address that always shows them as they stood, under /cite/.',
  arguments: [{ name: 'ID', help: 'id of a source or publication (default: the archive)', optional: true }],
  uses: 'view',
  formats: ['text', 'csl'],
  examples: ['cite', 'cite sennit-3-filing', 'cite bench-letter-31 --format csl'],

  async run(call) {
    const view = await call.view();
    const [id] = call.arguments;
    const item = id === undefined ? archiveCitation(view, call.asOf) : citationOf(view, id);
    return { text: () => `${citationText(item)}\n`, csl: () => [item] };
  },
});

import { readEarly } from '../../snapshot/read-early.ts';
import { defineCommand } from '../frame/command.ts';
import { SERVE_OPTIONS } from '../frame/serving-options.ts';
import { snapshotFile } from '../frame/snapshot-place.ts';

export const command = defineCommand({
  name: 'serve',
  about:
    'Serves the page, GraphQL and its explorer on one address until Ctrl-C (SIGINT or SIGTERM). It serves your own archive once there is one (create-archive, or an import), until then the invented demo, which the first start makes in a folder of its own. A confusion.yaml in the data folder, in the form of schema/confusions.yaml, defines how eyes confuse characters. What other commands import meanwhile is seen within a second. With DATABASE_URL the archive is in that database, where several services may share it.\nGET /livez answers as soon as it listens, GET /readyz once the archive is read.',
  options: SERVE_OPTIONS,
  uses: 'folder',
  examples: ['serve', 'serve --data ./bench --audience desk --port 4861', 'serve --demo'],

  async run(call) {
    const { options, place } = call;
    // A thread reads the snapshot while the program is loaded, which takes as long. Of a damaged journal it may hold what is behind the damage.
    const begun = options.whatIsWhole ? undefined : readEarly(snapshotFile(place.folder));
    const { serve } = await import('../frame/serving.ts');
    return serve(call, begun);
  },
});

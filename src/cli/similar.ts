import { circuitDistance } from '../compare/circuit-distance.ts';
import { clusterDevices } from '../compare/clusters.ts';
import { DEFAULT_ITERATIONS, MOST_ITERATIONS, similarDevices, whySimilar } from '../compare/similarity.ts';
import { toCsv } from '../export/csv.ts';
import type { Row } from '../export/rows.ts';
import { toTable } from '../export/table.ts';
import { SUBSYSTEM_KINDS } from '../model/dossier.ts';
import type { View } from '../state/view.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { type Command, choiceOf, EXIT, numberOf, textOf, UsageError, type Values } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';

export const command: Command = {
  usage:
    'similar DEVICE [--first N] [--steps N] | similar --clusters [--resolution N] [--seed N] | similar DEVICE DEVICE [--subsystem KIND]',
  help: `The devices whose component graphs are most like one's (1: cannot be told apart, 0: nothing in common), and what they
share. With --clusters, groups of like devices. With two devices, the exact number of changes between their circuits: a
component or connection put in or taken out, or a component of another kind, counts 1.

${DATA_HELP}
  --first N         how many devices, 1 to 100 (default: 10)
  --steps N         how far the neighbourhoods compared reach, 0 to ${MOST_ITERATIONS} (default: ${DEFAULT_ITERATIONS})
  --clusters        groups of like devices
  --resolution N    above 1 gives more and smaller clusters (default: 1)
  --seed N          the same seed gives the same clusters (default: 1)
  --subsystem KIND  of two devices, only components in subsystems of this kind: ${SUBSYSTEM_KINDS.slice(0, 6).join(', ')},
                    ${SUBSYSTEM_KINDS.slice(6).join(', ')}
  --format table    or csv or json
${AUDIENCE_HELP}

  caseback similar tarn-loop-4 --first 3
  caseback similar --clusters
  caseback similar tarn-loop-3/a tarn-loop-3/b --subsystem power`,
  options: {
    ...DATA_OPTION,
    ...AUDIENCE_OPTION,
    first: { type: 'string' },
    steps: { type: 'string' },
    clusters: { type: 'boolean' },
    resolution: { type: 'string' },
    seed: { type: 'string' },
    subsystem: { type: 'string' },
    format: { type: 'string' },
  },
  words: 2,

  async run(ids, values) {
    const format = choiceOf(values, 'format', ['table', 'csv', 'json'], 'table');
    if (values.clusters ? ids.length > 0 : ids.length === 0)
      throw new UsageError('name one or two devices, or say --clusters alone');
    const archive = await openArchive(dataFolder(values));
    try {
      const view = archive.view(audienceOf(values));
      const rows = values.clusters
        ? await clusterRows(view, values)
        : ids.length === 1
          ? await nearestRows(view, ids[0], values)
          : await distanceRows(view, [ids[0], ids[1]], textOf(values, 'subsystem'));
      if (format === 'json') process.stdout.write(`${JSON.stringify(rows, null, 2)}\n`);
      else process.stdout.write(format === 'csv' ? toCsv(rows) : toTable(rows));
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};

function stepsOf(values: Values): number {
  return numberOf(textOf(values, 'steps') ?? String(DEFAULT_ITERATIONS), '--steps', {
    least: 0,
    most: MOST_ITERATIONS,
  });
}

async function nearestRows(view: View, id: string, values: Values): Promise<readonly Row[]> {
  const iterations = stepsOf(values);
  const first = numberOf(textOf(values, 'first') ?? '10', '--first', { least: 1, most: 100 });
  const { of, devices } = await similarDevices(view, id, { iterations });
  return devices.slice(0, first).map(({ device, specimenId, similarity }) => {
    const other = view.specimen(specimenId);
    const shared = other ? whySimilar(of.specimen, other, { iterations, first: 2 }) : [];
    const telling = shared.filter(({ steps }) => steps === Math.min(1, iterations));
    return {
      device: device.id,
      released: device.released,
      similarity: similarity.toFixed(3),
      'what they share': telling.map(({ words }) => words).join('; '),
    };
  });
}

async function clusterRows(view: View, values: Values): Promise<readonly Row[]> {
  const written = textOf(values, 'resolution') ?? '1';
  const resolution = Number(written);
  if (written.trim() === '' || Number.isNaN(resolution))
    throw new UsageError(`--resolution is "${written}"; it must be a number above 0`);
  const seed = numberOf(textOf(values, 'seed') ?? '1', '--seed', { least: 0, most: 2 ** 32 - 1 });
  const { clusters, devices, modularity } = await clusterDevices(view, {
    iterations: stepsOf(values),
    resolution,
    seed,
  });
  process.stderr.write(
    `${devices} devices in ${clusters.length} clusters; modularity ${modularity.toFixed(2)}\n`,
  );
  return clusters.flatMap(({ members, marks }, at) =>
    members.map(({ device, similarity }, place) => ({
      cluster: String(at + 1),
      device: device.id,
      'mean similarity': similarity.toFixed(3),
      marks:
        place > 0
          ? ''
          : marks
              .map(({ words, inside, outside }) => `${words} (${inside} here, ${outside} elsewhere)`)
              .join('; '),
    })),
  );
}

async function distanceRows(
  view: View,
  ids: readonly [string, string],
  subsystem: string | undefined,
): Promise<readonly Row[]> {
  const { distance, relabelled, nodesRemoved, nodesAdded, edgesRemoved, edgesAdded, nodes } =
    await circuitDistance(view, ids, { subsystem });
  process.stderr.write(
    `${distance} changes: ${relabelled} components of another kind, ${nodesRemoved} taken out, ${nodesAdded} put in; ` +
      `${edgesRemoved} connections taken out, ${edgesAdded} put in\n`,
  );
  return nodes.map(({ from, to, kinds: [before, after] }) => ({
    [ids[0]]: from ?? '',
    kind: before ?? '',
    [ids[1]]: to ?? '',
    'kind after': after ?? '',
  }));
}

import { request as httpRequest } from 'node:http';
import { Archive } from '../../src/archive.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { generateCatalogue, generateDossiers, seededRandom } from './generate.ts';
import type { HostileRequest } from './hostile-requests.ts';

// What benchmarks of the service share: an archive to serve, and a client that sends requests as they are.

/** An archive of generated devices, imported into a journal in memory; the same number gives the same archive. */
export async function importedArchive(devices: number): Promise<Archive> {
  const random = seededRandom(20260101);
  const catalogue = generateCatalogue(devices, random);
  const archive = await Archive.open(new MemoryJournal());
  const locate = () => ({ line: 1, column: 1 });
  const dossiers = [...generateDossiers(devices, catalogue, random)];
  await archive.importDocuments(
    [
      { kind: 'catalogue', file: 'catalogue', locate, catalogue },
      ...dossiers.map((dossier) => ({
        kind: 'dossier' as const,
        file: dossier.specimen.id,
        locate,
        dossier,
      })),
    ],
    { actor: 'bench', reason: 'generated' },
  );
  return archive;
}

/** A question or change as a request. */
export function asking(name: string, query: string, variables?: unknown): HostileRequest {
  const headers = { 'content-type': 'application/json' };
  return { name, method: 'POST', url: '/graphql', headers, body: JSON.stringify({ query, variables }) };
}

/** Sends a request as it is, on a connection of its own; answers what came back, or how the connection ended. */
export function send(
  port: number,
  { method, url, headers, body }: HostileRequest,
): Promise<{ status: string; text: string }> {
  return new Promise((resolve) => {
    const sent = httpRequest(
      {
        port,
        host: '127.0.0.1',
        method,
        path: url,
        headers: { ...headers, ...(body !== undefined && { 'content-length': Buffer.byteLength(body) }) },
        agent: false,
      },
      (response) => {
        let text = '';
        response.setEncoding('utf8').on('data', (chunk) => {
          text += chunk;
        });
        response.on('close', () => resolve({ status: String(response.statusCode), text }));
      },
    );
    // The service gives a question 60 s.
    sent.setTimeout(70_000, () => sent.destroy(Object.assign(new Error('no answer'), { code: '504' })));
    sent.on('error', (error: NodeJS.ErrnoException) => resolve({ status: error.code ?? 'error', text: '' }));
    sent.end(body);
  });
}

import { connect } from 'node:net';
import { inject } from 'vitest';
import { emptySchema } from './server.ts';

/** Address of the server that the files of this run share; it does not wait for the disk. */
export async function sharedServer(): Promise<string> {
  let said = '';
  const socket = connect(inject('postgresDoor'), '127.0.0.1').setEncoding('utf8');
  for await (const chunk of socket) said += chunk;
  if (!said.startsWith('postgres://')) throw new Error(`PostgreSQL ${said}`);
  return said;
}

/** An empty store on the shared server. */
export async function sharedSchema(): ReturnType<typeof emptySchema> {
  return emptySchema(await sharedServer());
}

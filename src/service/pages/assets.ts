import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import type { FastifyInstance } from 'fastify';

const web = join(import.meta.dirname, '../../web');
const require = createRequire(import.meta.url);
/** A file of a package, past what the package exports. */
const inPackage = (name: string, file: string) =>
  join(dirname(require.resolve(`${name}/package.json`)), file);
const SCRIPT = 'text/javascript; charset=utf-8';
const STYLE = 'text/css; charset=utf-8';

/** Every file that pages load, by address. The list is closed: no other file can be asked for. */
const ASSETS: Readonly<Record<string, { readonly file: () => string; readonly type: string }>> = {
  'site.css': { file: () => join(web, 'site.css'), type: STYLE },
  'icon.svg': { file: () => join(web, 'icon.svg'), type: 'image/svg+xml' },
  'explorer.css': { file: () => join(web, 'explorer.css'), type: STYLE },
  'explorer.js': { file: () => join(web, 'explorer.js'), type: SCRIPT },
  'react.js': { file: () => inPackage('react', 'umd/react.production.min.js'), type: SCRIPT },
  'react-dom.js': { file: () => inPackage('react-dom', 'umd/react-dom.production.min.js'), type: SCRIPT },
  'graphiql.js': { file: () => inPackage('graphiql', 'graphiql.min.js'), type: SCRIPT },
  'graphiql.css': { file: () => inPackage('graphiql', 'graphiql.min.css'), type: STYLE },
};

/** Serves the files of the pages from memory, each read when first asked for, with an entity tag (RFC 9110). */
export async function assets(app: FastifyInstance): Promise<void> {
  const read = new Map<string, { readonly body: Buffer; readonly tag: string }>();
  for (const [name, { file, type }] of Object.entries(ASSETS)) {
    app.get(`/assets/${name}`, (request, reply) => {
      let asset = read.get(name);
      if (!asset) {
        const body = readFileSync(file());
        const tag = `"${createHash('sha256').update(body).digest('base64url').slice(0, 22)}"`;
        asset = { body, tag };
        read.set(name, asset);
      }
      reply.header('etag', asset.tag).header('cache-control', 'no-cache');
      if (request.headers['if-none-match'] === asset.tag) return reply.code(304).send();
      return reply.type(type).send(asset.body);
    });
  }
}

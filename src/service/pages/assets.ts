import { createRequire } from 'node:module';
import { basename, dirname, join } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';

const web = join(import.meta.dirname, '../../web');
const require = createRequire(import.meta.url);
/** A file of a package, past what the package exports. */
const inPackage = (name: string, file: string) =>
  join(dirname(require.resolve(`${name}/package.json`)), file);

/** Every file that pages load, by address. The list is closed: no other file can be asked for. */
const ASSETS: Readonly<Record<string, () => string>> = {
  'site.css': () => join(web, 'site.css'),
  'feed.js': () => join(web, 'feed.js'),
  'icon.svg': () => join(web, 'icon.svg'),
  'explorer.css': () => join(web, 'explorer.css'),
  'explorer.js': () => join(web, 'explorer.js'),
  'react.js': () => inPackage('react', 'umd/react.production.min.js'),
  'react-dom.js': () => inPackage('react-dom', 'umd/react-dom.production.min.js'),
  'graphiql.js': () => inPackage('graphiql', 'graphiql.min.js'),
  'graphiql.css': () => inPackage('graphiql', 'graphiql.min.css'),
};

/** Serves the files of the pages, each found when first asked for; browsers ask again whether one has changed. */
export async function assets(app: FastifyInstance): Promise<void> {
  await app.register(fastifyStatic, { root: web, serve: false, cacheControl: false });
  for (const [name, find] of Object.entries(ASSETS)) {
    app.get(`/assets/${name}`, { config: { isForAll: true } }, (_request, reply) => {
      const file = find();
      return reply.header('cache-control', 'no-cache').sendFile(basename(file), dirname(file));
    });
  }
}

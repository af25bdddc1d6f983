import { join } from 'node:path';
import { argv } from 'node:process';
import { build, type InlineConfig } from 'vite';

// Builds the desk: what browsers load, and the same views for the service to write pages with. Run as a process of its own, so that
// nothing of the builder stays in the one that serves. `build.ts FOLDER`: where to.

const [, , folder] = argv;
const web = join(import.meta.dirname, '../web');

const common: InlineConfig = {
  root: web,
  configFile: false,
  base: '/desk/',
  logLevel: 'error',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
};

await build({
  ...common,
  build: {
    outDir: join(folder, 'browser'),
    emptyOutDir: true,
    manifest: 'manifest.json',
    target: 'es2023',
    modulePreload: { polyfill: false },
    rollupOptions: { input: join(web, 'entry/browser.tsx') },
  },
});
await build({
  ...common,
  ssr: { noExternal: true },
  build: {
    outDir: join(folder, 'service'),
    emptyOutDir: true,
    ssr: join(web, 'entry/server.tsx'),
    target: 'node24',
    rollupOptions: { output: { entryFileNames: 'write.mjs' } },
  },
});

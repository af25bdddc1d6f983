import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    setupFiles: ['tests/random.ts'],
    globalSetup: ['tests/postgres/global-setup.ts'],
    // No test waits on the clock. These only end what hangs, also on a machine that is busy with other things.
    testTimeout: 600_000,
    hookTimeout: 600_000,
    reporters: ['default', './tests/closing-line.ts'],
    maxWorkers: 2,
  },
});

import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    include: ['test/**/*.test.ts'],
    setupFiles: ['test/silence.ts'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // By default one core is left idle; on two that doubles the time.
    maxWorkers: '100%',
  },
});

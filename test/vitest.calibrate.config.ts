import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/** Long studies of how far the numbers can be trusted. Not part of `npm test`. */
export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    include: ['test/calibrate/**/*.calibrate.ts'],
    passWithNoTests: true,
    testTimeout: 6 * 3_600_000,
  },
});

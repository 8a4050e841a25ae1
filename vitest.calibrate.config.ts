import { defineConfig } from 'vitest/config';

/** Long studies of how far the numbers can be trusted. Not part of `npm test`. */
export default defineConfig({
  test: {
    include: ['test/calibrate/**/*.calibrate.ts'],
    passWithNoTests: true,
    testTimeout: 6 * 3_600_000,
  },
});

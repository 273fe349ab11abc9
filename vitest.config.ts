import { defineConfig } from 'vitest/config';
import { ClosingLine } from './tests/support/closing-line.js';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    reporters: ['default', new ClosingLine()],
    testTimeout: 240_000,
    hookTimeout: 240_000,
    maxWorkers: 2,
  },
});

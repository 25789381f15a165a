import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'unit',
          include: [
            'src/**/*.test.ts',
            'src/**/*.test.tsx',
            'demo/**/*.test.ts',
            'test/known/**/*.test.ts',
            'test/photos/**/*.test.ts',
          ],
          testTimeout: 30_000,
        },
      },
      { test: { name: 'laws', include: ['test/laws/**/*.test.ts'], testTimeout: 30_000 } },
      {
        test: {
          name: 'journeys',
          include: ['test/journeys/**/*.test.ts', 'test/engines/**/*.test.ts', 'test/groups/**/*.test.ts'],
          testTimeout: 300_000,
          hookTimeout: 300_000,
          fileParallelism: false,
        },
      },
    ],
  },
});

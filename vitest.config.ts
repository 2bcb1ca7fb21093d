import react from '@vitejs/plugin-react';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  plugins: [react()],
  test: {
    setupFiles: ['tests/setup.ts'],
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    environment: 'node',
    // better-sqlite3 is a native module and the fault tests kill processes: forks, not threads.
    pool: 'forks',
    maxWorkers: 2,
    testTimeout: 120_000,
    hookTimeout: 180_000,
    teardownTimeout: 20_000,
    restoreMocks: true,
    // Polls wait for a thing to happen, not for how fast it does: a second was too short on a busy machine.
    expect: { poll: { timeout: 20_000 } },
  },
});

import { describe, expect, it } from 'vitest';
import { lastLine, tally, type VitestReport } from '../tally.ts';

const report = (change: Partial<VitestReport> = {}): VitestReport => ({
  numPassedTests: 3,
  numFailedTests: 0,
  numPendingTests: 0,
  numTodoTests: 0,
  testResults: [],
  ...change,
});

describe('the count of a test run', () => {
  it('is the number of tests where nothing else went wrong', () => {
    expect(lastLine(tally(report(), 0))).toBe('3 passed, 0 failed');
    expect(lastLine(tally(report({ numFailedTests: 2, numPendingTests: 1, numTodoTests: 1 }), 1))).toBe(
      '3 passed, 2 failed, 2 skipped',
    );
  });
  it('counts a file that could not be loaded', () => {
    const broken = tally(
      report({
        testResults: [{ name: 'a.test.ts', status: 'failed', message: 'no such module\n at x', assertionResults: [] }],
      }),
      1,
    );
    expect(broken.failed).toBe(1);
    expect(broken.faults).toEqual(['a.test.ts: no such module']);
  });
  it('counts a file with failed tests only by its tests', () => {
    expect(
      tally(
        report({
          numFailedTests: 1,
          testResults: [{ name: 'a.test.ts', status: 'failed', assertionResults: [{ status: 'failed' }] }],
        }),
        1,
      ).failed,
    ).toBe(1);
  });
  it('never lets a broken run pass', () => {
    expect(tally(undefined, 0).failed).toBe(1);
    expect(tally(report({ numPassedTests: 0 }), 0).failed).toBe(1);
    expect(tally(report(), 1).failed).toBe(1);
  });
});

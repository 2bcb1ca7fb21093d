import { describe, expect, it } from 'vitest';
import { brokenOff, lastLine, tally, withSecond, type VitestReport } from '../tally.ts';

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
  it('tells a file whose process broke off from one that failed, and takes its second run in place of the first', () => {
    const of = (name: string, status: string, tests: string[], message?: string) => ({
      name,
      status,
      ...(message === undefined ? {} : { message }),
      assertionResults: tests.map((one) => ({ status: one })),
    });
    const first = report({
      numPassedTests: 4,
      numFailedTests: 1,
      numPendingTests: 1,
      testResults: [
        of('good.test.ts', 'passed', ['passed', 'passed']),
        of('bad.test.ts', 'failed', ['passed', 'failed']),
        of('unloadable.test.ts', 'failed', [], 'no such module'),
        of('broken.test.ts', 'failed', ['passed', 'pending']),
      ],
    });
    expect(brokenOff(first)).toEqual(['broken.test.ts']);
    const second = report({
      numPassedTests: 3,
      numPendingTests: 1,
      testResults: [of('broken.test.ts', 'passed', ['passed', 'pending', 'passed', 'passed'])],
    });
    const told = tally(withSecond(first, second), 0);
    expect(told).toMatchObject({ passed: 6, failed: 2, skipped: 1, faults: ['unloadable.test.ts: no such module'] });
    const stillBroken = report({ numPassedTests: 0, testResults: [of('broken.test.ts', 'failed', [])] });
    expect(tally(withSecond(first, stillBroken), 1).faults).toContain('broken.test.ts: could not be run');
  });
  it('never lets a broken run pass', () => {
    expect(tally(undefined, 0).failed).toBe(1);
    expect(tally(report({ numPassedTests: 0 }), 0).failed).toBe(1);
    expect(tally(report(), 1).failed).toBe(1);
  });
});

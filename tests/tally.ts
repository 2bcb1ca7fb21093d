/** The parts of vitest's JSON report that are counted. */
export interface VitestReport {
  numPassedTests: number;
  numFailedTests: number;
  numPendingTests: number;
  numTodoTests: number;
  testResults: { name: string; status: string; message?: string; assertionResults: { status: string }[] }[];
}

export interface Tally {
  passed: number;
  failed: number;
  skipped: number;
  /** What failed without being a test: a file that could not be loaded, a run that broke off. */
  faults: string[];
}

/** Counts a run. What went wrong outside any test counts as failed too, so that no fault can pass for success. */
export function tally(report: VitestReport | undefined, exitCode: number): Tally {
  if (report === undefined)
    return { passed: 0, failed: 1, skipped: 0, faults: ['The tests broke off before they could report.'] };
  const faults = report.testResults
    .filter((file) => file.status === 'failed' && !file.assertionResults.some((test) => test.status === 'failed'))
    .map((file) => `${file.name}: ${(file.message ?? '').split('\n')[0] || 'could not be run'}`);
  const counted = report.numPassedTests + report.numFailedTests + report.numPendingTests + report.numTodoTests;
  if (counted === 0 && faults.length === 0) faults.push('No test was found.');
  if (exitCode !== 0 && report.numFailedTests === 0 && faults.length === 0)
    faults.push(`An error outside the tests (exit code ${exitCode}); see above.`);
  return {
    passed: report.numPassedTests,
    failed: report.numFailedTests + faults.length,
    skipped: report.numPendingTests + report.numTodoTests,
    faults,
  };
}

/** Files whose process broke off under them: they neither passed nor failed, and nothing is said of why. */
export function brokenOff(report: VitestReport | undefined): string[] {
  const files = report?.testResults ?? [];
  return files
    .filter((file) => file.status === 'failed' && !file.message)
    .filter((file) => !file.assertionResults.some((test) => test.status === 'failed'))
    .map((file) => file.name);
}

/** A run with what some of its files said when they were run again in place of what they said at first. */
export function withSecond(first: VitestReport, second: VitestReport): VitestReport {
  const again = new Set(second.testResults.map((file) => file.name));
  const replaced = first.testResults.filter((file) => again.has(file.name)).flatMap((file) => file.assertionResults);
  const were = (status: string) => replaced.filter((test) => test.status === status).length;
  return {
    numPassedTests: first.numPassedTests - were('passed') + second.numPassedTests,
    numFailedTests: first.numFailedTests + second.numFailedTests,
    numPendingTests: first.numPendingTests - were('pending') - were('skipped') + second.numPendingTests,
    numTodoTests: first.numTodoTests - were('todo') + second.numTodoTests,
    testResults: [...first.testResults.filter((file) => !again.has(file.name)), ...second.testResults],
  };
}

/** The last line of the test command. */
export function lastLine({ passed, failed, skipped }: Tally): string {
  return `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;
}

/**
 * Reads the result of a test run (vitest's JSON report) and prints one closing line. Exit code 1 where a test failed,
 * where one was left out, or where none ran: a test that did not run has shown nothing.
 *
 *     tsx tools/testCount.ts report.json
 */
import { readFileSync } from 'node:fs';

interface Report {
  numPassedTests: number;
  numFailedTests: number;
  numPendingTests: number;
  numTodoTests: number;
  numFailedTestSuites: number;
  testResults: { name: string; assertionResults: { status: string; fullName: string }[] }[];
}

function main(path: string): number {
  const report = JSON.parse(readFileSync(path, 'utf8')) as Report;
  const leftOut = report.numPendingTests + report.numTodoTests;
  for (const { name, assertionResults } of report.testResults) {
    for (const { status, fullName } of assertionResults) {
      if (status !== 'passed' && status !== 'failed')
        process.stderr.write(`left out: ${name}: ${fullName}\n`);
    }
  }
  const skipped = leftOut > 0 ? `, ${leftOut} skipped` : '';
  process.stdout.write(`${report.numPassedTests} passed, ${report.numFailedTests} failed${skipped}\n`);
  const sound = report.numFailedTests === 0 && report.numFailedTestSuites === 0 && leftOut === 0;
  return sound && report.numPassedTests > 0 ? 0 : 1;
}

process.exitCode = main(process.argv[2] ?? '');

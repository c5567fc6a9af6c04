// npm test: installs what it needs, checks format, lint and types, builds, runs
// every test and closes with one line that counts them.
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join, relative } from 'node:path';
import { ensureBuilt, ensureInstalled, requireNode, root, run } from '../src/serve/ensure.mjs';
import { ensureCertutil, ensureChromium } from './chromium.mjs';

/** What is run as one: files that leave nothing behind, and those that each get a process of their own. */
const TOGETHER = { unit: ['unit', 'pure'] };
/** Files that are run once more; where more failed than that, something is wrong that is no busy machine. */
const AGAIN = 3;

requireNode();
await ensureInstalled();
process.env.CHROMIUM = await ensureChromium();
await ensureCertutil();
await ensureBuilt('app');
await ensureBuilt('cli');

/** The weight of a process halves about every three of these steps. */
const LEAVING = 10;
const tally = { passed: 0, failed: 0, skipped: 0 };
/** What is said last, above the count: where to look. */
const last = [];
// Each keeps one core busy for a minute or two.
const checks = ['check:format', 'check:lint', 'check:types'];
const codes = await Promise.all(checks.map((script) => run('npm', ['run', '--silent', script])));
codes.forEach((code, i) => {
  tally[code === 0 ? 'passed' : 'failed'] += 1;
  if (code !== 0) last.push(`Failed: npm run ${checks[i]}`);
});
// The spoken tests wait for their own words most of the time; beside them the unit tests take what
// they leave, so that nobody is cut off in mid-sentence.
const beside = await Promise.all([runProject('unit', LEAVING), runProject('spoken')]);
for (const report of [...beside, await runProject('browser')]) await count(report);
for (const line of last) console.log(line);
console.log(`Tests: ${tally.passed} passed, ${tally.failed} failed, ${tally.skipped} skipped`);
process.exitCode = tally.failed === 0 ? 0 : 1;

/**
 * Runs a project, or some files of it.
 * @param {string} project
 * @param nice how readily the run gives way to others (os.setPriority); 0 not at all
 * @param {string[]} files all of them when empty
 */
async function runProject(project, nice = 0, files = []) {
  const file = join(root, 'dist', `tests-${project}.json`);
  rmSync(file, { force: true });
  const names = (TOGETHER[project] ?? [project]).flatMap((name) => ['--project', name]);
  const words = ['vitest', 'run', ...names, '--reporter=default', '--reporter=json'];
  const code = await run('npx', [...words, `--outputFile.json=${file}`, ...files], {}, nice);
  return {
    project,
    code,
    report: existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : null,
  };
}

/**
 * Adds a project up. What failed beside other work is run once more by itself, file by file: what
 * passes then is counted as passed and named as unsteady, so that a busy machine does not hide which
 * test is wrong and nobody takes an unsteady one for sound.
 */
async function count({ project, code, report }) {
  if (report === null) {
    tally.failed += 1;
    last.push(`Failed: the tests of "${project}" ended before they could say how.`);
    return;
  }
  tally.passed += report.numPassedTests;
  tally.skipped += report.numPendingTests + report.numTodoTests;
  const files = report.testResults.filter(({ status }) => status === 'failed');
  // A suite that cannot even be loaded has no failed test in it, but is no success either.
  let failed = Math.max(report.numFailedTests, code === 0 ? 0 : 1);
  for (const { name, assertionResults } of files.length > AGAIN ? [] : files) {
    const again = await runProject(project, 0, [relative(root, name)]);
    const wrong = assertionResults.filter(({ status }) => status === 'failed');
    if (again.code !== 0 || wrong.length === 0) continue;
    tally.passed += wrong.length;
    failed -= wrong.length;
    for (const { fullName } of wrong)
      last.push(
        `Unsteady: ${relative(root, name)}: "${fullName}" failed once and passed by itself.`,
      );
    for (const one of wrong) one.status = 'passed';
  }
  tally.failed += failed;
  for (const { name, message, assertionResults } of files) {
    const wrong = assertionResults.filter(({ status }) => status === 'failed');
    for (const { fullName, failureMessages } of wrong)
      last.push(`Failed: ${relative(root, name)}: "${fullName}": ${firstLine(failureMessages[0])}`);
    if (assertionResults.length === 0)
      last.push(`Failed: ${relative(root, name)} could not be loaded: ${firstLine(message)}`);
  }
}

function firstLine(words) {
  return String(words ?? '')
    .split('\n')[0]
    .slice(0, 300);
}

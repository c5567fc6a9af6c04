// npm test: installs what it needs, checks format, lint and types, builds, runs
// every test and closes with one line that counts them.
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { ensureBuilt, ensureInstalled, requireNode, root, run } from '../src/serve/ensure.mjs';
import { ensureCertutil, ensureChromium } from './chromium.mjs';

requireNode();
await ensureInstalled();
process.env.CHROMIUM = await ensureChromium();
await ensureCertutil();
await ensureBuilt('app');
await ensureBuilt('cli');

/** The weight of a process halves about every three of these steps. */
const LEAVING = 10;
const tally = { passed: 0, failed: 0, skipped: 0 };
for (const script of ['check:format', 'check:lint', 'check:types']) {
  const code = await run('npm', ['run', '--silent', script]);
  tally[code === 0 ? 'passed' : 'failed'] += 1;
}
// The spoken tests wait for their own words most of the time; beside them the unit tests take what
// they leave, so that nobody is cut off in mid-sentence.
await Promise.all([runProject('unit', LEAVING), runProject('spoken')]);
await runProject('browser');
console.log(`Tests: ${tally.passed} passed, ${tally.failed} failed, ${tally.skipped} skipped`);
process.exitCode = tally.failed === 0 ? 0 : 1;

/** @param nice how readily the run gives way to others (os.setPriority); 0 not at all */
async function runProject(project, nice = 0) {
  const file = join(root, 'dist', `tests-${project}.json`);
  rmSync(file, { force: true });
  const words = ['vitest', 'run', '--project', project, '--reporter=default', '--reporter=json'];
  const code = await run('npx', [...words, `--outputFile.json=${file}`], {}, nice);
  if (!existsSync(file)) {
    tally.failed += 1;
    return;
  }
  const report = JSON.parse(readFileSync(file, 'utf8'));
  tally.passed += report.numPassedTests;
  tally.skipped += report.numPendingTests + report.numTodoTests;
  // A suite that cannot even be loaded has no failed test in it, but is no success either.
  tally.failed += Math.max(report.numFailedTests, code === 0 ? 0 : 1);
}

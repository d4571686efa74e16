// `npm test`: types of server, tests and web client, lint, then every test. The last line is "N passed, N failed".
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import path from 'node:path';
import { build } from '../apps/build.mjs';

const root = path.join(import.meta.dirname, '..');
process.chdir(root);
const results = path.join(root, 'test', 'output', 'results.json');
mkdirSync(path.dirname(results), { recursive: true });
rmSync(results, { force: true });
const node = (script, ...args) => spawnSync(process.execPath, [path.join('node_modules', script), ...args], { stdio: 'inherit', env: { ...process.env, NODE_ENV: 'test' } }).status === 0;

let passed = 0;
let failed = 0;
const count = (what, good) => { console.log(`${good ? 'ok' : 'FAILED'}: ${what}`); if (good) passed += 1; else failed += 1; };

try {
  await build((line) => console.log(line));
  count('build', true);
} catch (error) {
  console.error(error.message);
  count('build', false);
}
count('types of server, libraries and tests', node('typescript/bin/tsc', '-p', 'test/tsconfig.json'));
count('types of the web client', node('typescript/bin/tsc', '-p', 'apps/web/tsconfig.json'));
count('lint', node('@biomejs/biome/bin/biome', 'lint', '--error-on-warnings', 'apps', 'libs', 'seed', 'test'));
const vitest = node('vitest/vitest.mjs', 'run', '--config', 'test/vitest.config.ts', '--root', '.', '--reporter=default', '--reporter=json', `--outputFile.json=${results}`, ...process.argv.slice(2));
try {
  const report = JSON.parse(readFileSync(results, 'utf8'));
  passed += report.numPassedTests;
  failed += report.numFailedTests;
  // A file that breaks before its first test has no failed test to count.
  failed += report.testResults.filter((file) => file.status === 'failed' && file.assertionResults.every((test) => test.status !== 'failed')).length;
} catch {
  failed += 1;
}
if (!vitest && failed === 0) failed = 1;
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);

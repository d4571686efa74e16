import { cruise, type ICruiseOptions, type IForbiddenRuleType } from 'dependency-cruiser';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, it } from 'vitest';

const root = path.resolve(import.meta.dirname, '../..');
const { forbidden, options } = createRequire(import.meta.url)('./dependency-rules.cjs') as { forbidden: IForbiddenRuleType[]; options: ICruiseOptions & { enhancedResolveOptions: object } };

async function violations(baseDir: string): Promise<string[]> {
  const { enhancedResolveOptions, ...cruiseOptions } = options;
  const { output } = await cruise(['apps', 'libs'], { ...cruiseOptions, baseDir, ruleSet: { forbidden }, validate: true }, enhancedResolveOptions);
  if (typeof output === 'string') throw new TypeError('dependency-cruiser answered text');
  return output.summary.violations.map(({ rule, from, to }) => `${rule.name}: ${from} -> ${to}`);
}

/** One file that breaks each rule, in a tree of the same shape: a rule that cannot fail proves nothing. */
const PLANTED: Record<string, { from: string; imports: string; files: string[] }> = {
  'no-cycles': { from: 'apps/api/src/studies/a.ts', imports: './b.js', files: [] },
  resolvable: { from: 'apps/web/src/shared/lost.ts', imports: './not-there.js', files: [] },
  'declared-packages': { from: 'apps/web/src/shared/undeclared.ts', imports: 'undeclared', files: ['node_modules/undeclared/index.js'] },
  'numbers-are-pure': { from: 'libs/statistics/clock.ts', imports: 'node:perf_hooks', files: [] },
  'contract-knows-zod-only': { from: 'libs/contract/plant.ts', imports: '../statistics/mean.js', files: ['libs/statistics/mean.ts'] },
  'tracing-is-pure': { from: 'libs/tracing/rank.ts', imports: '../contract/shapes.js', files: ['libs/contract/shapes.ts'] },
  'libs-know-no-app': { from: 'libs/canmaking/seam.ts', imports: '../../apps/web/src/shared/http.js', files: ['apps/web/src/shared/http.ts'] },
  'api-features-are-strangers': { from: 'apps/api/src/signals/list.ts', imports: '../plant/plant.js', files: ['apps/api/src/plant/plant.ts'] },
  'web-features-are-strangers': { from: 'apps/web/src/signals/list.ts', imports: '../plant/page.js', files: ['apps/web/src/plant/page.ts'] },
  'shared-knows-no-feature': { from: 'apps/web/src/shared/knows.ts', imports: '../plant/page.js', files: ['apps/web/src/plant/page.ts'] },
  'platform-knows-no-feature': { from: 'apps/api/src/platform/knows.ts', imports: '../plant/plant.js', files: ['apps/api/src/plant/plant.ts'] },
  'flows-are-the-top': { from: 'apps/api/src/knowledge/flow.ts', imports: '../flows/record.js', files: ['apps/api/src/flows/record.ts'] },
  'web-app-is-the-top': { from: 'apps/web/src/users/top.ts', imports: '../app/frame.js', files: ['apps/web/src/app/frame.ts'] },
  'prisma-in-stores-only': { from: 'apps/api/src/flows/query.ts', imports: '../platform/generated/client.js', files: ['apps/api/src/platform/generated/client.ts'] },
  'nest-in-doors-only': { from: 'apps/api/src/flows/service.ts', imports: '@nestjs/common', files: ['node_modules/@nestjs/common/index.js'] },
  'api-and-web-are-strangers': { from: 'apps/web/src/users/server.ts', imports: '../../../api/src/plant/plant.js', files: ['apps/api/src/plant/plant.ts'] },
  'demo-stores-are-for-the-demo': { from: 'apps/api/src/flows/freeze.ts', imports: './demo/demo-limits.store.js', files: ['apps/api/src/flows/demo/demo-limits.store.ts'] },
  'no-server-packages-in-the-web': { from: 'apps/web/src/ingest/file.ts', imports: 'node:fs', files: [] },
  'nothing-needs-tests': { from: 'apps/api/src/users/fixture.ts', imports: '../../../../test/factory.js', files: ['test/factory.ts'] },
};
const planted = mkdtempSync(path.join(tmpdir(), 'seamledger-rules-'));
afterAll(() => rmSync(planted, { recursive: true, force: true }));

function plant(file: string, text: string): void {
  mkdirSync(path.dirname(path.join(planted, file)), { recursive: true });
  writeFileSync(path.join(planted, file), text);
}

it('no import goes against the directions', async () => {
  expect(await violations(root)).toEqual([]);
}, 60_000);

it('every rule reports the violation that is planted for it', async () => {
  expect(Object.keys(PLANTED).sort()).toEqual(forbidden.map((rule) => rule.name).sort());
  plant('package.json', JSON.stringify({ name: 'planted', version: '1.0.0', type: 'module', dependencies: { '@nestjs/common': '1.0.0' } }));
  for (const { from, imports, files } of Object.values(PLANTED)) {
    for (const file of files) {
      plant(file, 'export const value = 1;\n');
      const [, name] = /^node_modules\/(.+)\/index\.js$/.exec(file) ?? [];
      if (name) plant(`node_modules/${name}/package.json`, JSON.stringify({ name, version: '1.0.0', main: 'index.js' }));
    }
    plant(from, `import * as other from '${imports}';\nexport const mine = other;\n`);
  }
  plant('apps/api/src/studies/b.ts', "import * as other from './a.js';\nexport const mine = other;\n");
  const found = await violations(planted);
  const missed = Object.entries(PLANTED).filter(([rule, { from }]) => !found.some((line) => line.startsWith(`${rule}: ${from} -> `)));
  expect(missed.map(([rule]) => rule), found.join('\n')).toEqual([]);
}, 60_000);

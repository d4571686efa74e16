import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import type { Reporter, TestModule } from 'vitest/node';
import type { Agreement } from './agrees.js';

const README = path.resolve('libs/statistics/README.md');
const BEGIN = '<!-- digits: written by npm run digits -->';
const END = '<!-- digits end -->';

type Row = Agreement & { readonly folder: string };

/** Reporter of `npm run digits`: writes the table of methods, sources and agreed digits from what the tests compared. */
export default class AgreementTable implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const rows = modules.flatMap((module) => {
      const folder = path.relative(path.resolve('libs/statistics'), path.dirname(module.moduleId));
      return [...module.children.allTests()].flatMap((test) => (test.result().state === 'passed' ? (test.meta().agreements ?? []).map((agreement) => ({ ...agreement, folder })) : []));
    });
    const readme = readFileSync(README, 'utf8');
    const [from, to] = [readme.indexOf(BEGIN), readme.indexOf(END)];
    if (from < 0 || to < from) throw new Error(`${README} has no place for the table`);
    writeFileSync(README, `${readme.slice(0, from + BEGIN.length)}\n${table(rows)}\n${readme.slice(to)}`);
  }
}

function table(rows: readonly Row[]): string {
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    const key = `${row.folder}\n${row.method}\n${row.source}`;
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  const lines = [...groups.entries()].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, group]) => {
    const [first] = group as [Row];
    return `| ${first.method} | \`${first.folder || '.'}/\` | ${first.source} | ${group.length} | ${digits(group)} |`;
  });
  return [`${groups.size} cases, ${rows.length} values compared.`, '', '| method | folder | source | values | digits agreed |', '|---|---|---|---|---|', ...lines].join('\n');
}

/** The worst of the group: a table of best digits would say nothing. */
function digits(group: readonly Row[]): string {
  const numbers = group.flatMap((row) => (row.digits === null ? [] : [row.digits]));
  if (numbers.length === 0) return 'exact';
  return `${Math.min(...numbers)}${numbers.length < group.length ? ', lists exact' : ''}`;
}

import { expect, it } from 'vitest';
import { allEndpoints } from '#contract/all-endpoints';
import { type AuditorRule, mayUse } from '#contract/endpoint';
import { roles } from '#contract/roles';

// The table of every route by role, from the contract: a change of access shows as a change of the committed file.
const narrowed = (rule: AuditorRule | undefined): string => {
  if (rule === undefined) return '';
  if (typeof rule === 'string') return rule;
  return `${rule.thing === 'query.kind' ? 'kind' : rule.thing} at ${rule.at}`;
};

it('has one row for each route, as committed (npx vitest -u writes it anew: read the difference)', async () => {
  const rows = [...allEndpoints].map(({ endpoint }) => endpoint).sort((a, b) => `${a.path} ${a.method}`.localeCompare(`${b.path} ${b.method}`, 'en')).map((endpoint) => [
    `${endpoint.method} ${endpoint.path}`, ...(endpoint.access === 'public' ? roles.map(() => 'public') : roles.map((role) => (!mayUse(endpoint, role) ? '' : role === 'auditor' ? narrowed(endpoint.auditor) : 'yes'))), endpoint.feed ?? (endpoint.access === 'wall' ? 'wall' : ''),
  ]);
  const lines = [['route', ...roles, 'token'], ['route', ...roles, 'token'].map(() => '---'), ...rows].map((cells) => `| ${cells.join(' | ')} |`);
  expect(rows.length).toBe(allEndpoints.length);
  await expect(`# Routes by role\n\nWritten from the contract by routes-by-role.spec.ts. An auditor sees one customer’s products in one period: the column says by what a route is narrowed.\n\n${lines.join('\n')}\n`).toMatchFileSnapshot('./routes-by-role.md');
});

it('gives an auditor no change but of their own account and session, and no route whose answer is not narrowed', () => {
  const theirs = allEndpoints.filter(({ endpoint }) => endpoint.access !== 'public' && mayUse(endpoint, 'auditor'));
  expect(theirs.filter(({ endpoint }) => endpoint.method !== 'GET').map(({ endpoint }) => `${endpoint.method} ${endpoint.path}`).sort()).toEqual([
    'DELETE /api/account/sessions/:session', 'DELETE /api/session', 'POST /api/session/activity', 'POST /api/session/lock', 'POST /api/session/unlock', 'PUT /api/account/password',
  ]);
  for (const { name, endpoint } of theirs) {
    if (typeof endpoint.auditor !== 'object') continue;
    const [part, field] = endpoint.auditor.at.split('.') as ['params' | 'query', string];
    const shape = endpoint[part] as { shape?: Record<string, unknown> } | undefined;
    expect(shape?.shape && field in shape.shape, `${name} is narrowed by ${endpoint.auditor.at}, which it does not have`).toBe(true);
  }
});

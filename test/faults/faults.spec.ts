import { expect, it } from 'vitest';
import { differences } from './facts.js';
import { runRounds } from './rounds.js';

it('loses nothing that was acknowledged, stores nothing twice and judges as without faults, over kills of the API, of PostgreSQL and of one of its processes, by HTTP and by MQTT', { timeout: 600_000 }, async () => {
  const told: string[] = [];
  const report = await runRounds(3, 7, (line) => told.push(line));
  const { acknowledged, subgroups, signals, ...rest } = report;
  expect(rest, told.join('\n')).toMatchObject({ rounds: 3, lost: [], twice: [], different: [], undelivered: [] });
  expect(told).toHaveLength(3);
  // Without signals and broken requests nothing would have been put to the test.
  expect(acknowledged).toBe(3 * 48 + 3 * 120);
  expect(report.askedAgain).toBeGreaterThan(0);
  expect(subgroups).toBeGreaterThan(acknowledged);
  expect(signals).toBeGreaterThan(0);
  expect(rest).toMatchObject({ bodies: 300 + 3 * 400 });
  expect(report.chunks).toBeGreaterThan(0);
});

it('names what is missing, what is there twice and what is only there with faults', () => {
  expect(differences({ checks: ['a', 'b'] }, { checks: ['a', 'b'] })).toEqual([]);
  expect(differences({ checks: ['a'] }, { checks: ['a', 'b'] })).toEqual(['checks: 1 with faults, 2 without', 'checks: missing with faults: b']);
  expect(differences({ checks: ['a', 'a', 'c'] }, { checks: ['a'] })).toEqual(['checks: 3 with faults, 1 without', 'checks: only with faults: c']);
  expect(differences({}, { signals: ['s'] })).toEqual(['signals: 0 with faults, 1 without', 'signals: missing with faults: s']);
});

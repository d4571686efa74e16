import { expect, it } from 'vitest';
import type { Surrounding } from '#contract/incidents';
import { keyOf } from './record-words.js';

const missed = { kind: 'missed', shift: null, machineId: 1, machine: 'BM1', machineName: 'Body maker 1', stepKind: 'body-maker', at: '2026-03-01T06:00:00.000Z', until: '2026-03-01T09:00:00.000Z', plan: 'Weld', everyMinutes: 30, everyCans: null, openedBy: null, due: 5 } as const satisfies Surrounding;

it('names each missed check of a plan, also where minutes, cans and an event miss it at one moment', () => {
  const entries: Surrounding[] = [missed, { ...missed, everyMinutes: null, everyCans: 20_000 }, { ...missed, everyMinutes: null, openedBy: 'coil-change' }, { ...missed, everyMinutes: null, openedBy: 'stop' }];
  expect(new Set(entries.map(keyOf)).size).toBe(4);
});

import { expect, it } from 'vitest';
import { findingKind, type PackFinding } from '#contract/packs';
import { isOpenToAuditors } from '../shared/auditor-screens.js';
import { findingLink } from './finding-link.js';

const finding = (kind: PackFinding['kind']): PackFinding => ({ kind, about: 'x', count: 1, at: null, value: null, needed: null, streamId: 4, signalId: 7, productId: 1, machineId: 2, characteristicId: 3 });

it('leads each finding to a screen, with the ids that the screen asks for', () => {
  const links = findingKind.options.map((kind) => findingLink(finding(kind), { from: '2026-03-01', to: '2026-03-31' }));
  expect(links.every((link) => /^\/[a-z-]+/.test(link) && !/undefined|null/.test(link))).toBe(true);
  expect(findingLink(finding('signal-without-cause'), { from: '2026-03-01', to: '2026-03-31' })).toBe('/signals/7');
  expect(findingLink(finding('not-stable'), { from: '2026-03-01', to: '2026-03-31' })).toBe('/charts?stream=4');
  expect(findingLink(finding('few-data'), { from: '2026-03-01', to: '2026-03-31' })).toBe('/capability?product=1&machine=2&characteristic=3&from=2026-03-01&to=2026-03-31');
});

it('says which of them an auditor has: readings and signals, and nothing of the set-up', () => {
  const open = findingKind.options.filter((kind) => isOpenToAuditors(findingLink(finding(kind), { from: '2026-03-01', to: '2026-03-31' })));
  expect(open).toEqual(['not-stable', 'not-judged', 'signal-without-cause', 'few-data', 'below-threshold', 'gauge-unknown']);
});

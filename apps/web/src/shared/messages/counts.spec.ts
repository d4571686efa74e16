import i18next from 'i18next';
import { expect, it } from 'vitest';
import './catalogue.js';

it('says one of a thing as one, and many as many, also where a sentence holds several numbers', () => {
  const t = i18next.t;
  expect(t('specifications:freeze.done', { judged: 1, raised: 1 })).toBe('Frozen. Judged by these limits: 1 subgroup; raised: 1 signal.');
  expect(t('specifications:freeze.done', { judged: 40, raised: 0 })).toBe('Frozen. Judged by these limits: 40 subgroups; raised: 0 signals.');
  expect(t('incidentLife:pareto.caption', { by: 'Defect', incidents: 1, cans: 12 })).toBe('Defect: 1 incident, 12 cans complained of');
  expect(t('incidents:list.tally', { count: 1, cans: 1 })).toBe('1 incident, 1 can complained of');
  expect(t('ingest:preview.counts', { toStore: 1, checks: 1, alreadyStored: 0, refusedRows: 3, rows: 168 })).toBe('1 reading in 1 check would be stored; stored already: 0; 3 of 168 rows have something refused.');
  expect(t('studyRecords:result.planText', { people: 1, parts: 5, count: 10, seed: 7 })).toBe('1 person, 5 parts, 10 times; order by seed 7.');
  expect(t('queue:picked', { at: 'then', entered: 'now', cans: 1 })).toBe('Cans picked then, entered now, 1 can');
  expect(t('retention:acts.checks', { checks: 1, subgroups: 12, before: 'then' })).toBe('1 check (12 subgroups) taken before then');
  expect(t('ingest:progress.refused', { refused: 1 })).toBe('1 row refused');
});

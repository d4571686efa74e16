import { expect, it } from 'vitest';
import { type IncidentListView, readIncidentListUrl, writeIncidentListUrl } from './incident-list.url.js';

it('reads back what it writes', () => {
  const views: IncidentListView[] = [{ take: 50 }, { take: 150, state: 'closed', customer: 'Smith & Sons + Co', defect: 'cold-weld' }];
  for (const view of views) expect(readIncidentListUrl(writeIncidentListUrl(view))).toEqual(view);
  expect(writeIncidentListUrl({ take: 50 }).size).toBe(0);
});

it('leaves out what it does not know', () => {
  expect(readIncidentListUrl(new URLSearchParams('state=lost&customer=&defect=%20&take=9999'))).toEqual({ take: 50 });
});

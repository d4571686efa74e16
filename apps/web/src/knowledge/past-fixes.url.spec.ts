import { expect, it } from 'vitest';
import { type PastFixesView, readPastFixesUrl, writePastFixesUrl } from './past-fixes.url.js';

it('reads back what it writes', () => {
  const views: PastFixesView[] = [{ q: '' }, { q: 'leak & “lap” +1', defect: 'cold-weld', step: 'seamer', machine: 'SE1', kind: 'note', verified: 'true', meaning: 'weld overlap,tightness' }];
  for (const view of views) expect(readPastFixesUrl(writePastFixesUrl(view))).toEqual(view);
  expect(writePastFixesUrl({ q: '' }).toString()).toBe('');
});

it('opens an old or mistyped link with what can be read of it', () => {
  expect(readPastFixesUrl(new URLSearchParams('kind=photo&verified=perhaps&meaning=&defect=&step=%20&machine=SE1'))).toEqual({ q: '', machine: 'SE1' });
  expect(readPastFixesUrl(new URLSearchParams({ q: 'x'.repeat(900) })).q).toHaveLength(400);
});

import { expect, it } from 'vitest';
import { makeFormat } from '../shared/format.js';
import { type ParetoView, paretoQuery, readParetoUrl, writeParetoUrl } from './pareto.url.js';

it('reads back what it writes', () => {
  const views: ParetoView[] = [{ by: 'defect', weight: 'incidents', alpha: '0.00135' }, { by: 'month', weight: 'cans', alpha: '0.05', customer: 'Smith & Sons', line: 3, kind: 'complaint', from: '2026-01-01', to: '2026-04-01' }];
  for (const view of views) expect(readParetoUrl(writeParetoUrl(view))).toEqual(view);
  expect(writeParetoUrl(views[0] as ParetoView).size).toBe(0);
});

it('leaves out what it does not know, and begins a day when it begins in the plant', () => {
  const view = readParetoUrl(new URLSearchParams('by=colour&weight=tons&line=-1&kind=rumour&from=yesterday&alpha=7'));
  expect(view).toEqual({ by: 'defect', weight: 'incidents', alpha: '0.00135' });
  expect(paretoQuery({ ...view, from: '2026-07-01', line: 2 }, makeFormat('Europe/Lisbon').fromInput)).toMatchObject({ from: '2026-06-30T23:00:00.000Z', to: undefined, lineId: 2 });
});

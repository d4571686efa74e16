import { expect, it } from 'vitest';
import { changeChartsView, type ChartsView, readChartsUrl, spanOf, writeChartsUrl } from './charts.url.js';

it('gives back every view that it wrote', () => {
  const views: ChartsView[] = [
    {}, { stream: 12, last: 2000 }, { stream: 3, from: '2026-03-01T08:00:00.000Z', to: '2026-03-09T08:00:00.000Z', zones: true, side: true },
    { stream: 3, point: '2026-03-01T08:00:00.000Z~2', freeze: true },
  ];
  for (const view of views) expect(readChartsUrl(writeChartsUrl(view))).toEqual(view);
});

it('opens an old or mistyped address as far as it is understood', () => {
  expect(readChartsUrl(new URLSearchParams('stream=abc&last=-3&from=soon&to=2026-03-01T08:00Z&zones=yes&point=nothing'))).toEqual({ to: '2026-03-01T08:00:00.000Z' });
  expect(readChartsUrl(new URLSearchParams('last=20001'))).toEqual({});
  expect(readChartsUrl(new URLSearchParams('from=2026-03-09T08:00Z&to=2026-03-01T08:00Z'))).toEqual({ from: '2026-03-09T08:00:00.000Z' });
});

it('forgets the point of another stream, and either the number or the span of what is shown', () => {
  const view: ChartsView = { stream: 1, last: 100, point: '2026-03-01T08:00:00.000Z~1', freeze: true, zones: true };
  expect(changeChartsView(view, { stream: 2 })).toEqual({ stream: 2, last: 100, zones: true });
  expect(changeChartsView(view, { from: '2026-03-01T08:00:00.000Z' }).last).toBeUndefined();
  expect(changeChartsView({ from: 'a', to: 'b' }, { last: 500 })).toEqual({ last: 500 });
});

it('asks for the last 500 unless a span says which', () => {
  expect(spanOf({})).toEqual({ last: 500 });
  expect(spanOf({ from: 'a' })).toEqual({ from: 'a' });
  expect(spanOf({ to: 'b' })).toEqual({ last: 500, to: 'b' });
});

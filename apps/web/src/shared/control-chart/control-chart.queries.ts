import { useQuery } from '@tanstack/react-query';
import { useEffect } from 'react';
import { type ChartSpan, getChart, getChartPoint } from '#contract/specifications';
import { call } from '../http.js';
import { fetchPlotly } from '../plot.js';

/** Begins with ['charts', streamId]: whatever hears that a stream changed can throw away just this. */
export function useChart(streamId: number, span: ChartSpan) {
  useEffect(fetchPlotly, []);
  return useQuery({
    queryKey: ['charts', streamId, span.last ?? null, span.from ?? null, span.to ?? null],
    queryFn: ({ signal }) => call(getChart, { params: { streamId }, query: span, signal }),
    placeholderData: (before) => (before?.stream.id === streamId ? before : undefined),
  });
}

export const useChartPoint = (streamId: number, point: { takenAt: string; sequence: number } | null) => useQuery({
  queryKey: ['charts', streamId, 'point', point?.takenAt ?? null, point?.sequence ?? null], enabled: point !== null,
  queryFn: ({ signal }) => call(getChartPoint, { params: { streamId }, query: point as { takenAt: string; sequence: number }, signal }),
});

import { useComputedColorScheme } from '@mantine/core';
import type { Config, Data, Layout, PlotMouseEvent } from 'plotly.js';
import { useEffect, useRef, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { ErrorState, Loading } from './states.js';

export type Figure = { data: Data[]; layout: Partial<Layout> };
type Plotly = { react(node: HTMLElement, data: Data[], layout: Partial<Layout>, config: Partial<Config>): Promise<unknown>; purge(node: HTMLElement): void; Plots: { resize(node: HTMLElement): void } };
type Listening = HTMLElement & { on?(event: 'plotly_click', hear: (event: PlotMouseEvent) => void): void; on?(event: 'plotly_relayout', hear: (event: Record<string, unknown>) => void): void; removeAllListeners?(event: string): void };

const CONFIG: Partial<Config> = { displaylogo: false, responsive: false, modeBarButtonsToRemove: ['select2d', 'lasso2d', 'autoScale2d'] };
let library: Promise<Plotly> | undefined;
// Half a megabyte: fetched when the first chart is shown.
const loadPlotly = () => { library ??= import('plotly.js-cartesian-dist-min').then((file) => (file as unknown as { default: Plotly }).default); return library; };

/** Fetches the drawing library while a page still waits for what it will draw: reading it takes as long as drawing does. A failure is told by the chart that needs it. */
export function fetchPlotly(): void {
  void loadPlotly().catch(() => { library = undefined; });
}

/** The two ends of the time axis after a person zoomed or moved it, as plotly reports them; undefined where something else changed. */
function spanOf(event: Record<string, unknown>): [string, string] | undefined {
  const range: unknown = event['xaxis.range'] ?? [event['xaxis.range[0]'], event['xaxis.range[1]']];
  const [from, to] = Array.isArray(range) ? range as unknown[] : [];
  return typeof from === 'string' && typeof to === 'string' ? [from.replace(' ', 'T'), to.replace(' ', 'T')] : undefined;
}

/** The only file that knows plotly. Redraws when `figure` is another object, so build it once for each revision (useMemo). */
export function Plot({ figure, label, height = 360, onPointClick, onSpan }: { figure: Figure; /** Keep it the same function. */ onSpan?: (span: [string, string]) => void; label: string; height?: number; onPointClick?: (point: { x: unknown; y: unknown; customdata: unknown; curve: number }) => void }) {
  const { t } = useTranslation('common');
  const node = useRef<HTMLElement>(null);
  const [ready, setReady] = useState(false);
  const [error, setError] = useState<unknown>();
  const dark = useComputedColorScheme('light') === 'dark';
  useEffect(() => {
    const target = node.current as Listening | null;
    if (!target) return undefined;
    let gone = false;
    loadPlotly().then((plotly) => {
      if (gone) return undefined;
      const [ink, grid] = dark ? ['#dbe2e8', '#3a444d'] : ['#27333d', '#e6ebef'];
      const layout: Partial<Layout> = { paper_bgcolor: 'rgba(0,0,0,0)', plot_bgcolor: 'rgba(0,0,0,0)', font: { color: ink, size: 13 }, margin: { l: 64, r: 96, t: 16, b: 48 }, showlegend: false, autosize: true, height, template: { layout: { xaxis: { gridcolor: grid }, yaxis: { gridcolor: grid } } }, ...figure.layout };
      return plotly.react(target, figure.data, layout, CONFIG).then(() => {
        setReady(true);
        target.removeAllListeners?.('plotly_click');
        target.removeAllListeners?.('plotly_relayout');
        if (onSpan) target.on?.('plotly_relayout', (event) => { const span = spanOf(event); if (span) onSpan(span); });
        if (onPointClick) target.on?.('plotly_click', ({ points: [point] }) => { if (point) onPointClick({ x: point.x, y: point.y, customdata: point.customdata, curve: point.curveNumber }); });
      });
    }).catch((reason: unknown) => { library = undefined; setError(reason); });
    return () => { gone = true; };
  }, [figure, height, dark, onPointClick, onSpan]);
  useEffect(() => {
    const target = node.current;
    if (!target) return undefined;
    const watch = new ResizeObserver(() => { void library?.then((plotly) => { if (target.isConnected && target.classList.contains('js-plotly-plot')) plotly.Plots.resize(target); }); });
    watch.observe(target);
    return () => { watch.disconnect(); void library?.then((plotly) => plotly.purge(target)); };
  }, []);
  if (error) return <ErrorState error={error} retry={() => setError(undefined)} />;
  return (
    <div style={{ position: 'relative', minHeight: height }}>
      {ready ? null : <div style={{ position: 'absolute' }}><Loading what={t('chart')} /></div>}
      <figure ref={node} aria-label={label} data-plot={ready ? 'drawn' : 'waiting'} style={{ height, margin: 0 }} />
    </div>
  );
}

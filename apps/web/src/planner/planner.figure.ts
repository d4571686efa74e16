import type { Annotations, Data, Layout } from 'plotly.js';

export type PlanCurve = { name: string; shifts: readonly number[]; /** Mean until seen at each shift; null is beyond counting. */ until: readonly (number | null)[] };
export type PlannerWords = { shift: string; until: string; point: (curve: string, shift: number, until: number) => string };

// Okabe and Ito 2008, each with a dash and a mark of its own, and its name at its end.
const STYLES = [
  { color: '#0072b2', dash: 'solid', symbol: 'circle' }, { color: '#d55e00', dash: 'dash', symbol: 'square' },
  { color: '#009e73', dash: 'dot', symbol: 'diamond' }, { color: '#cc79a7', dash: 'dashdot', symbol: 'triangle-up' },
] as const;

/** How much passes until a shift is seen, against its size, one line a plan; on a logarithmic scale, since small shifts take a hundred times as long. */
export function plannerFigure(curves: readonly PlanCurve[], words: PlannerWords): { data: Data[]; layout: Partial<Layout> } {
  const drawn = curves.map((curve) => ({ name: curve.name, points: curve.shifts.flatMap((shift, index) => { const until = curve.until[index]; return until != null && until > 0 ? [{ shift, until }] : []; }) }));
  const ends = spread(drawn.map(({ points }) => points.at(-1)?.until ?? null));
  return {
    data: drawn.map(({ name, points }, index): Data => {
      const { color, dash, symbol } = STYLES[index % STYLES.length] as (typeof STYLES)[number];
      return { type: 'scatter', mode: 'lines+markers', name, x: points.map(({ shift }) => shift), y: points.map(({ until }) => until), line: { color, dash, width: 2.5 }, marker: { color, symbol, size: 9 }, text: points.map(({ shift, until }) => words.point(name, shift, until)), hoverinfo: 'text' };
    }),
    layout: {
      margin: { l: 84, r: 96, t: 16, b: 48 },
      xaxis: { title: { text: words.shift }, rangemode: 'tozero', zeroline: false }, yaxis: { title: { text: words.until }, type: 'log', dtick: 1, zeroline: false },
      annotations: drawn.flatMap(({ name, points }, index): Partial<Annotations>[] => {
        const [last, y] = [points.at(-1), ends[index]];
        return last && y != null ? [{ x: last.shift, y: Math.log10(y), xref: 'x', yref: 'y', xanchor: 'left', xshift: 10, showarrow: false, text: name }] : [];
      }),
    },
  };
}

/** A fifth of the way from one end label to the next on a scale of tens keeps two names apart. */
const APART = 1.45;

/** Where the names of the lines stand: at their ends, moved up where two would cover each other. */
function spread(ends: readonly (number | null)[]): (number | null)[] {
  const placed: (number | null)[] = ends.map(() => null);
  const inOrder = ends.flatMap((end, index) => (end === null ? [] : [{ end, index }])).sort((a, b) => a.end - b.end);
  let least = 0;
  for (const { end, index } of inOrder) {
    const at = Math.max(end, least);
    placed[index] = at;
    least = at * APART;
  }
  return placed;
}

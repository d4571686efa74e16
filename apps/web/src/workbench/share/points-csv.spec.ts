import { parse } from 'csv-parse/sync';
import { expect, it } from 'vitest';
import type { Panel } from '../results/workbench-chart.figure.js';
import { pointsCsv } from './points-csv.js';

const HEADINGS = { point: 'point', name: 'name', panel: 'panel', value: 'value', centre: 'centre', lower: 'lower', upper: 'upper', sigma: 'sigma', signals: 'signals' };

it('writes every point of every panel with its limits and signals, in a form that is read back alike', () => {
  const panel: Panel = { statistic: 'mean', points: [1.25, null, 1e-7], centre: [1, 1, 1], lower: [null, null, null], upper: [2, 2, 2.5], sigma: [0.5, 0.5, 0.5], out: [], rules: [], firings: [{ index: 2, rule: 'beyond-limits', side: 'below', firstIndex: 2 }, { index: 2, rule: 'two-of-three', side: 'below', firstIndex: 0 }] };
  const text = pointsCsv({ panels: [panel, { ...panel, statistic: 'range', firings: [] }] }, ['K1, "early"', '=1+1', 'K3'], HEADINGS, (statistic) => statistic);
  const rows = parse(text, { columns: true }) as unknown as Record<string, string>[];
  expect(rows).toHaveLength(6);
  expect(rows[0]).toEqual({ point: '1', name: 'K1, "early"', panel: 'mean', value: '1.25', centre: '1', lower: '', upper: '2', sigma: '0.5', signals: '' });
  expect(rows[1]).toMatchObject({ name: "'=1+1", value: '' });
  expect(rows[2]).toMatchObject({ value: '1e-7', upper: '2.5', signals: 'beyond-limits below; two-of-three below' });
  expect(rows[5]).toMatchObject({ panel: 'range', signals: '' });
  expect(text.endsWith('\r\n')).toBe(true);
});

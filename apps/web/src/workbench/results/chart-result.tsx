import { Button, Group, Stack, Text } from '@mantine/core';
import { type KeyboardEvent, useCallback, useMemo } from 'react';
import { useTranslation } from 'react-i18next';
import { Plot } from '../../shared/plot.js';
import { ChartNotes } from '../chart-choice.js';
import { axisName, type Ground, panelWords, pointName } from './panel-words.js';
import { flaggedPoints } from './signal-groups.js';
import { PANEL_KEYS, type PanelStep, stepPanelPoint } from './step-panel-point.js';
import { type ChartAnswer, DRAWN_UP_TO, workbenchChartFigure } from './workbench-chart.figure.js';

type Props = { answer: ChartAnswer; kindName: string; ground: Ground; selected: number | null; onSelect: (index: number) => void };

/** The chart, and the same chart for the keyboard and the ear. */
export function ChartResult({ answer, kindName, ground, selected, onSelect }: Props) {
  const { t } = useTranslation('workbench');
  const { panels } = answer;
  const words = useMemo(() => panels.map((panel) => panelWords(t, ground, panel)), [t, ground, panels]);
  const figure = useMemo(() => workbenchChartFigure(panels, words, axisName(t, answer), selected), [panels, words, t, answer, selected]);
  const hear = useCallback(({ customdata }: { customdata: unknown }) => { if (typeof customdata === 'number') onSelect(customdata); }, [onSelect]);
  const count = panels[0]?.points.length ?? 0;
  const go = (step: PanelStep) => { const index = stepPanelPoint(panels, selected, step); if (index !== null) onSelect(index); };
  const keys = (event: KeyboardEvent) => {
    const step = PANEL_KEYS[event.key];
    if (!step) return;
    event.preventDefault();
    go(step);
  };
  const read = selected === null || selected >= count ? t('chart.reader.hint') : [pointName(t, ground.names, selected), ...words.map((entry) => entry.read(selected))].join('. ');
  return (
    <Stack gap="xs">
      <Plot figure={figure} height={panels.length > 2 ? 640 : panels.length === 2 ? 520 : 380} label={t('chart.label', { kind: kindName, count, flagged: flaggedPoints(panels) })} onPointClick={hear} />
      <Group gap="sm" role="group" aria-label={t('chart.reader.label')} onKeyDown={keys} className="no-print">
        <Button.Group>{(['previousFlagged', 'previous', 'next', 'nextFlagged'] as const).map((step) => <Button key={step} variant="default" size="sm" disabled={stepPanelPoint(panels, selected, step) === null} onClick={() => go(step)}>{t(`chart.reader.${step}`)}</Button>)}</Button.Group>
        <Text size="sm" role="status" aria-live="polite">{read}</Text>
      </Group>
      {count > DRAWN_UP_TO ? <Text size="sm">{t('chart.drawn', { count: DRAWN_UP_TO })}</Text> : null}
      <ChartNotes notes={answer.notes} />
      <Estimates answer={answer} ground={ground} />
    </Stack>
  );
}

const LENGTHS = ['centre', 'sigma', 'spreadCentre', 'sigmaOfMeans', 'sigmaWithin', 'sigmaBetween', 'sigmaTotal', 'target', 'meanTime'] as const;
const PURE = ['sigmaZ', 'proportion', 'meanGap'] as const;

function Estimates({ answer: { estimates, panels }, ground: { decimals, unit, format } }: { answer: ChartAnswer; ground: Ground }) {
  const { t } = useTranslation('workbench');
  const isCount = panels.some(({ statistic }) => statistic === 'p' || statistic === 'np' || statistic === 'c' || statistic === 'u' || statistic === 'gap');
  const entries = [
    ...LENGTHS.flatMap((name) => { const value = estimates[name]; return value == null ? [] : [{ name, value: isCount || unit === '' ? format.number(value, isCount ? 4 : decimals + 2) : format.withUnit(value, decimals + 2, unit) }]; }),
    ...PURE.flatMap((name) => { const value = estimates[name]; return value == null ? [] : [{ name, value: format.number(value, name === 'proportion' ? 8 : name === 'meanGap' ? 1 : 3) }]; }),
  ];
  if (entries.length === 0) return null;
  return (
    <section aria-label={t('chart.estimates.title')}>
      <Group gap="lg">{entries.map(({ name, value }) => <div key={name}><Text size="sm" c="dimmed">{t(`chart.estimates.${name}`)}</Text><Text fw={600}>{value}</Text></div>)}</Group>
    </section>
  );
}

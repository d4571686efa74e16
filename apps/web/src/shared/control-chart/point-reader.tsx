import { Button, Group, Text } from '@mantine/core';
import { type KeyboardEvent, useMemo } from 'react';
import { useTranslation } from 'react-i18next';
import type { ChartView } from '#contract/specifications';
import { useFormat } from '../format.js';
import { chartWords } from './chart-words.js';
import { STEP_KEYS, type Step, stepPoint } from './step-point.js';

/** The chart for the keyboard and the ear: left and right go point by point, page up and down from signal to signal; each is read out. */
export function PointReader({ view, selected, onSelect }: { view: ChartView; selected: number | null; onSelect: (index: number) => void }) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  const words = useMemo(() => chartWords(t, format, view), [t, format, view]);
  const go = (step: Step) => { const index = stepPoint(view, selected, step); if (index !== null) onSelect(index); };
  const hear = (event: KeyboardEvent) => {
    const step = STEP_KEYS[event.key];
    if (!step) return;
    event.preventDefault();
    go(step);
  };
  const button = (step: Step) => <Button variant="default" size="sm" disabled={stepPoint(view, selected, step) === null} onClick={() => go(step)}>{t(`reader.${step}`)}</Button>;
  return (
    <Group gap="sm" role="group" aria-label={t('reader.label')} onKeyDown={hear} className="no-print" align="center">
      <Button.Group>{button('previousFlagged')}{button('previous')}{button('next')}{button('nextFlagged')}</Button.Group>
      <Text size="sm" role="status" aria-live="polite">{selected === null ? t('reader.hint') : words.read(selected)}</Text>
    </Group>
  );
}

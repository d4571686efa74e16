import { Paper, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { AnswerOf } from '#contract/endpoint';
import type { memoryOfReadings } from '#contract/workbench/choosing';
import type { Ground } from './panel-words.js';

/** Whether points come so often that each remembers the one before; quiet when they do not. */
export function MemoryResult({ answer: { lags, bound, memory, tooOften }, format }: { answer: AnswerOf<typeof memoryOfReadings>; format: Ground['format'] }) {
  const { t } = useTranslation('workbench');
  const figures = { r: format.number(lags[0]?.r ?? 0, 2), bound: format.number(bound, 2) };
  if (!tooOften) return <Text size="sm">{t('memory.none', figures)}</Text>;
  const once = memory.falseAlarm > 0 ? Math.max(1, Math.round(1 / memory.falseAlarm)) : null;
  return (
    <Paper withBorder p="sm" role="note">
      <Text fw={700}>{t('memory.title')}</Text>
      <Text>{t('memory.some', figures)}</Text>
      <Text>{t('memory.effect', { ratio: format.number(memory.sigmaRatio, 2), points: once === null ? '' : format.number(once, 0) })}</Text>
      {memory.every === null ? null : <Text>{t('memory.every', { count: memory.every })}</Text>}
    </Paper>
  );
}

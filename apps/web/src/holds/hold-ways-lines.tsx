import { Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { useFormat } from '../shared/format.js';
import { useStepWord } from '../shared/step-word.js';
import type { Way } from './hold-ways.js';

/** How the times of a way come about: its stretches one by one, their sum, and the cans between. */
export function WayLines({ way, unknown }: { way: Way | null; unknown: string }) {
  const { t } = useTranslation('holds');
  const format = useFormat();
  const step = useStepWord();
  if (way === null) return <Text size="sm" c="dimmed">{unknown}</Text>;
  if (way.parts.length === 0) return <Text size="sm" c="dimmed">{t('ways.same')}</Text>;
  const whole = (value: number) => format.number(value, 0);
  const { total, parts } = way;
  return (
    <>
      {parts.map((part) => <Text key={part.from} size="sm">{t('ways.part', { from: step(part.from), to: step(part.to), low: whole(part.shortestSeconds), high: whole(part.longestSeconds) })}</Text>)}
      {parts.length > 1 ? <Text size="sm" fw={600}>{t('ways.total', { low: whole(total.shortestSeconds), high: whole(total.longestSeconds) })}</Text> : null}
      <Text size="sm">{total.leastCans === null && total.mostCans === null ? t('ways.noCans') : total.mostCans === null ? t('ways.cansAtLeast', { low: whole(total.leastCans ?? 0) }) : t('ways.cans', { low: whole(total.leastCans ?? 0), high: whole(total.mostCans) })}</Text>
    </>
  );
}

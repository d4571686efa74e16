import { Stack, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { HoldSample } from '#contract/holds';
import { useFormat } from '../shared/format.js';

/** What a sample can and cannot show. */
export function SampleSentence({ sample }: { sample: HoldSample }) {
  const { t } = useTranslation('holds');
  const format = useFormat();
  const percent = (share: number) => format.number(100 * share, share < 0.001 ? 4 : 2);
  const shown = { n: sample.examined, found: sample.found, bound: percent(sample.upperBound), confidence: format.number(100 * (1 - sample.risk), 0) };
  return (
    <Stack gap={2}>
      <Text size="sm">{sample.what}</Text>
      <Text size="sm" fw={600}>{sample.found === 0 ? t('sample.zero', shown) : t('sample.some', shown)}</Text>
      {sample.found > 0 ? <Text size="sm">{t('sample.failed')}</Text> : sample.examined < sample.needed ? <Text size="sm">{t('sample.short', { needed: sample.needed, share: percent(sample.share), risk: percent(sample.risk) })}</Text> : null}
    </Stack>
  );
}

import { Stack, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { LimitsPreview, StreamView } from '#contract/specifications';
import { meanDecimals } from '../shared/control-chart/chart-words.js';
import { useFormat } from '../shared/format.js';

/** What the server says freezing would do. */
export function PreviewResult({ preview, stream, isStale }: { preview: LimitsPreview; stream: StreamView; isStale: boolean }) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  const { unit } = stream.characteristic;
  const decimals = meanDecimals(stream);
  const inside = preview.firings.filter(({ inBaseline }) => inBaseline).length;
  return (
    <Stack gap={4} role="status" aria-live="polite">
      {isStale ? <Text fw={600}>{t('freeze.stale')}</Text> : null}
      <Text>{t('freeze.result', { centre: format.withUnit(preview.centre, decimals, unit), sigma: format.withUnit(preview.sigma, decimals + 1, unit), subgroups: preview.subgroups, judged: preview.judged })}</Text>
      {preview.bySize.slice(0, 5).map(({ n, mean }) => <Text key={n} size="sm">{t('freeze.lines', { n, lower: format.number(mean.lower, decimals), upper: format.withUnit(mean.upper, decimals, unit) })}</Text>)}
      {preview.until === null ? null : <Text>{t('freeze.until', { at: format.dateTime(preview.until) })}</Text>}
      <Text>{inside === 0 ? t('freeze.clean') : t('freeze.inside', { count: inside })} {t('freeze.after', { count: preview.firings.length - inside })}</Text>
    </Stack>
  );
}

import { Group, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { ChartView, StreamListed } from '#contract/specifications';
import { meanDecimals } from '../shared/control-chart/chart-words.js';
import { useFormat } from '../shared/format.js';
import { StateBadge } from '../shared/state-badge.js';

/** State of the newest point, its value, and how the stream is charted. */
export function StreamHead({ view, listed, mayFreeze }: { view: ChartView; listed: StreamListed; mayFreeze: boolean }) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  const { stream, points } = view;
  const end = points.takenAt.length - 1;
  const notJudged = points.status.every((status) => status === 'not-judged');
  return (
    <>
      <Group gap="lg" align="baseline">
        <StateBadge state={points.status[end] ?? 'not-judged'} />
        <Text size="lg" fw={600}>{t('head.newest', { value: format.withUnit(points.mean[end], meanDecimals(stream), stream.characteristic.unit), at: format.dateTime(points.takenAt[end] ?? '') })}</Text>
        {listed.openSignals > 0 ? <Text>{t('head.open', { count: listed.openSignals })}</Text> : null}
        <Text c="dimmed" size="sm">{t('head.chartOf', { kind: t(`kind.${stream.chartKind}`), basis: t(`basis.${stream.basis}`) })}</Text>
      </Group>
      {notJudged ? <Text>{t('notJudged.text')} {mayFreeze ? t('notJudged.engineer') : null}</Text> : null}
    </>
  );
}

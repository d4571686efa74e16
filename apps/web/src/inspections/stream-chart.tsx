import { Anchor, Stack } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { ControlChart } from '../shared/control-chart/control-chart.js';

/** Enough to see where the new point stands in its series, small enough to stay under its row. */
const LAST = 30;
const HEIGHT = 360;

/** The chart of one stream of the check, with the way to the whole of it. */
function StreamChart({ streamId, label }: { streamId: number; label: string }) {
  const { t } = useTranslation('inspections');
  return (
    <Stack component="section" gap="xs" aria-label={label}>
      <ControlChart streamId={streamId} last={LAST} height={HEIGHT} />
      <Anchor component={Link} to={`/charts?stream=${streamId}`}>{t('verdict.fullChart')}</Anchor>
    </Stack>
  );
}

export const streamChart = (streamId: number, label: string) => <StreamChart streamId={streamId} label={label} />;

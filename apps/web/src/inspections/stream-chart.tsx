import { Anchor } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';

/** The chart of a stream of the check. */
export function StreamChart({ streamId }: { streamId: number }) {
  const { t } = useTranslation('inspections');
  return <Anchor component={Link} to={`/charts?stream=${streamId}`}>{t('verdict.fullChart')}</Anchor>;
}

export const streamChart = (streamId: number) => <StreamChart streamId={streamId} />;

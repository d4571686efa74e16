import { Paper, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { SignalPage } from '#contract/signals';
import { useFormat } from '../shared/format.js';

/** The window and the cans in it, with the arithmetic and its assumptions beside the figure. */
export function SuspectWindow({ view: { window } }: { view: SignalPage }) {
  const { t } = useTranslation('signals');
  const format = useFormat();
  const { cans } = window;
  const number = (value: number) => format.number(value, 0);
  const parts = cans ? [cans.units > 1 ? t('window.units', { count: cans.units }) : null, cans.lanes > 1 ? t('window.lanes', { count: cans.lanes }) : null].filter((part) => part !== null).join(' × ') : '';
  return (
    <Paper withBorder p="md" component="section">
      <Stack gap="xs">
        <Title order={2} size="h4">{t('window.title')}</Title>
        <Text>{window.from ? t('window.from', { at: format.dateTime(window.from) }) : t('window.noFrom')}, {t(`window.until.${window.untilBasis}`, { at: format.dateTime(window.until) })}.</Text>
        {cans ? (
          <>
            <Text size="xl" fw={600}>{t(cans.atLeast ? 'window.atLeast' : 'window.cans', { cans: number(cans.atRisk) })}</Text>
            <Text>{t(cans.atLeast ? 'window.least' : 'window.all', { counted: number(cans.counted) })}</Text>
            {cans.shareOf > 1 ? <Text>{t('window.share', { counted: number(cans.counted), share: cans.shareOf, cans: number(cans.atRisk), parts })}</Text> : null}
            {cans.uncoveredMinutes >= 1 ? <Text>{t('window.uncovered', { minutes: number(cans.uncoveredMinutes) })}</Text> : null}
          </>
        ) : <Text>{t('window.noCounts')}</Text>}
        <Text size="sm" c="dimmed">{t('window.lag')}</Text>
        <Text size="sm" fw={600}>{t('window.caution')}</Text>
      </Stack>
    </Paper>
  );
}

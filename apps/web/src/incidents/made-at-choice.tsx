import { Radio, Stack, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { useFormat } from '../shared/format.js';

/** A time that the plant's clocks showed twice asks which one; a time that they skipped says so. Nothing is shown for any other. */
export function MadeAtChoice({ typed, chosen, onChoose }: { typed: string; chosen: string; onChoose: (moment: string) => void }) {
  const { t } = useTranslation('incidents');
  const format = useFormat();
  const moments = format.momentsOf(typed);
  if (typed === '' || moments.length === 1 || Number.isNaN(Date.parse(`${typed}Z`))) return null;
  if (moments.length === 0) return <Text size="sm" role="status">{t('form.skippedTime', { zone: format.timeZone })}</Text>;
  const utc = (moment: string) => `${moment.slice(11, 16)} UTC`;
  return (
    <Radio.Group label={t('form.shownTwice', { zone: format.timeZone })} value={chosen === '' ? (moments[0] ?? '') : chosen} onChange={onChoose}>
      <Stack gap={4} pt={4}>{moments.map((moment, index) => <Radio key={moment} value={moment} label={t(index === 0 ? 'form.firstTime' : 'form.secondTime', { utc: utc(moment) })} />)}</Stack>
    </Radio.Group>
  );
}

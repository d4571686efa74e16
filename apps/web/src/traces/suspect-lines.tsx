import { Anchor, List, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { TraceOrigin } from '#contract/traces';
import { useFormat } from '../shared/format.js';
import { holdAddress } from './hold-address.js';
import type { TraceSubject } from './trace-subject.js';

/** What is suspect if this origin is true, with the arithmetic. */
export function SuspectLines({ origin, lineId, subject }: { origin: TraceOrigin; lineId: number; subject: TraceSubject }) {
  const { t } = useTranslation('traces');
  const format = useFormat();
  const { suspect } = origin;
  if (!suspect) return <Text c="dimmed">{t('suspect.none')}</Text>;
  const { from, until, openEnded, codedFrom, codedUntil, counted, atRisk, shareOf, uncoveredMinutes } = suspect;
  const moment = (at: string | null) => (at === null ? t('suspect.unknown') : format.dateTime(at));
  const number = (value: number | null) => format.number(value, 0);
  return (
    <section>
      <Text fw={600}>{t('suspect.title')}</Text>
      <List spacing={4}>
        <List.Item>{t('suspect.span', { from: moment(from), until: moment(until) })}{openEnded ? `, ${t('suspect.open')}` : ''}</List.Item>
        <List.Item>{t('suspect.coded', { from: moment(codedFrom), until: moment(codedUntil) })}</List.Item>
        <List.Item>{counted === null ? t('suspect.noCounts') : shareOf > 1 ? t('suspect.cans', { counted: number(counted), shareOf, atRisk: number(atRisk) }) : t('suspect.all', { counted: number(counted) })}{counted !== null && uncoveredMinutes >= 1 ? `, ${t('suspect.uncovered', { minutes: Math.round(uncoveredMinutes) })}` : ''}</List.Item>
      </List>
      <Anchor component={Link} to={holdAddress(origin, lineId, subject)} underline="always" display="inline-block" py={6}>{t('suspect.hold')}</Anchor>
    </section>
  );
}

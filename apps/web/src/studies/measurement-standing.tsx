import { Anchor, List, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { GaugeStanding } from '#contract/gauge-standing';
import { useFormat } from '../shared/format.js';

/** Was each gauge in calibration, and is it proved that it can measure this? In words, because figures hang on it. */
export function MeasurementStanding({ measurement }: { measurement: readonly GaugeStanding[] }) {
  const { t } = useTranslation('studyRecords');
  const format = useFormat();
  return (
    <List>
      {measurement.map(({ gauge, calibration, certificate, dueAt, study }) => (
        <List.Item key={gauge?.id ?? 0}>
          <Text fw={calibration === 'in-calibration' ? undefined : 600}>{gauge === null ? t('standing.unnamed') : t('standing.line', { gauge: `${gauge.code} ${gauge.name}`, calibration: t(`standing.calibration.${calibration}`) })}</Text>
          {certificate ? <Text size="sm">{t('standing.certificate', { certificate })}</Text> : null}
          {dueAt ? <Text size="sm">{t('standing.due', { date: format.date(dueAt) })}</Text> : null}
          {study ? <Anchor size="sm" component={Link} underline="always" to={`/studies/${study.id}`}>{t('standing.study', { id: study.id, verdict: study.verdict ? t(`verdict.${study.verdict}`) : t('standing.unjudged'), at: format.date(study.approvedAt) })}</Anchor> : <Text size="sm" fw={600}>{t('standing.noStudy')}</Text>}
        </List.Item>
      ))}
    </List>
  );
}

import { SimpleGrid, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { CheckView } from '#contract/inspections';
import { useFormat } from '../shared/format.js';

/** Who, when, where, with what: the header of a check's record. */
export function CheckFacts({ check }: { check: CheckView }) {
  const { t } = useTranslation('inspections');
  const format = useFormat();
  const gauges = check.characteristics.filter((entry) => entry.gauge !== null).map((entry) => `${entry.name}: ${entry.gauge}`);
  const source = check.import ? t('check.file', { file: check.import.fileName, id: check.import.id }) : check.source === 'entry' || check.source === 'feed' || check.source === 'offline' || check.source === 'import' || check.source === 'seed' ? t(`check.sources.${check.source}`) : check.source;
  const facts: [string, string][] = [
    [t('check.taken'), format.dateTime(check.takenAt)],
    [t('check.entered'), `${format.dateTime(check.enteredAt)}, ${t('check.by', { name: check.enteredBy })}`],
    [t('check.inspector'), check.inspector],
    [t('check.machine'), `${check.machine.code} ${check.machine.name}`],
    [t('check.product'), `${check.product.code} ${check.product.name}`],
    [t('check.plan'), check.plan ?? t('check.none')],
    [t('check.source'), source],
    [t('check.gauge'), gauges.length === 0 ? t('check.none') : gauges.join('; ')],
    [t('check.note'), check.note ?? t('check.none')],
  ];
  return (
    <SimpleGrid component="dl" cols={{ base: 1, xs: 2, md: 3 }} spacing="sm" m={0} aria-label={t('check.facts')}>
      {facts.map(([name, value]) => <div key={name}><Text component="dt" size="sm" c="dimmed">{name}</Text><Text component="dd" m={0}>{value}</Text></div>)}
    </SimpleGrid>
  );
}

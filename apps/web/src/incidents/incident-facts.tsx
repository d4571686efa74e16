import { Group, SimpleGrid, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Incident } from '#contract/incidents';
import { DefectFacts } from '../shared/defect-facts.js';
import { useDefects } from '../shared/defects.queries.js';
import { useFormat } from '../shared/format.js';
import { useStepWord } from '../shared/step-word.js';

export function IncidentFacts({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidents');
  const format = useFormat();
  const stepWord = useStepWord();
  const defect = useDefects().data?.defects.find(({ code }) => code === incident.defect);
  const { cansExamined: examined, cansLeaking: leaking, zeroFoundUpperBound: bound } = incident;
  const span = incident.madeUntil === null ? format.dateTime(incident.madeAt) : t('page.madeSpan', { from: format.dateTime(incident.madeAt), until: format.dateTime(incident.madeUntil) });
  const made = incident.codedAtStepKind === null ? span : t('page.codedAt', { what: span, step: stepWord(incident.codedAtStepKind).toLowerCase() });
  const facts: [label: string, value: string][] = [
    [t('list.customer'), incident.customer], [t('page.productLabel'), t('page.product', { code: incident.product, name: incident.productName })], [t('list.line'), t('form.option', { code: incident.line, name: incident.lineName })],
    [t('page.codeOnCan'), incident.canCode === '' ? t('page.noCode') : incident.canCode], [t('list.made'), made], [t('page.place'), [incident.unitMachine, incident.unit, incident.lane].filter(Boolean).join(' ') || t('page.placeUnknown')], [t('list.received'), format.dateTime(incident.receivedAt)],
    [t('list.place'), incident.leakPlace], [t('page.cansLabel'), t('page.cans', { complained: incident.cansComplained, examined, leaking })],
    ...(incident.closedAt === null ? [] : [[t('page.closedAt'), format.dateTime(incident.closedAt)] as [string, string]]),
  ];
  return (
    <Stack gap="sm">
      <Group gap="md"><Text>{t(`kind.${incident.kind}`)}</Text><Text c="dimmed" size="sm">{t('page.logged', { name: incident.loggedBy, at: format.dateTime(incident.loggedAt) })}</Text></Group>
      <SimpleGrid component="dl" cols={{ base: 1, xs: 2, md: 4 }} m={0}>
        {facts.map(([label, value]) => <div key={label}><Text component="dt" size="sm" c="dimmed">{label}</Text><Text component="dd" m={0} fw={600}>{value}</Text></div>)}
      </SimpleGrid>
      <Text fw={600}>{examined === 0 ? t('page.noneExamined') : bound === null ? t('page.share', { leaking, examined, percent: format.number((100 * leaking) / examined, 1) }) : t('page.zero', { examined, percent: format.number(100 * bound, 2) })}</Text>
      <section><Title order={2} size="h4">{t('page.description')}</Title><Text style={{ whiteSpace: 'pre-wrap' }} maw={820}>{incident.description}</Text></section>
      {defect ? <DefectFacts defect={defect} /> : null}
    </Stack>
  );
}

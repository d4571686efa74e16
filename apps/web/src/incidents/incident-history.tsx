import { List, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Incident } from '#contract/incidents';
import { useFormat } from '../shared/format.js';
import { lifeStepTaken, stepTaken } from './incident-words.js';

export function IncidentHistory({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidents');
  const { t: life } = useTranslation('incidentLife');
  const format = useFormat();
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('page.history')}</Title>
      <List>{incident.steps.map((step) => <List.Item key={step.id}>{t('page.step', { at: format.dateTime(step.at), what: [lifeStepTaken(life, step.action) ?? stepTaken(t, step.action), step.comment, step.evidence === null ? null : life('life.evidence', { text: step.evidence }), step.dueAt === null ? null : life('life.due', { at: format.dateTime(step.dueAt) })].filter(Boolean).join(': '), who: step.actor })}</List.Item>)}</List>
    </section>
  );
}

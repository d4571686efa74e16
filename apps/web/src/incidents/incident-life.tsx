import { Group, Paper, SimpleGrid, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { type IncidentState as State, incidentStates } from '#contract/incident-shapes';
import type { Incident } from '#contract/incidents';
import { closers, investigators } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { IncidentDue } from './incident-due.js';
import { useTakeBack } from './incident-life.queries.js';
import { IncidentState, isOverdue } from './incident-state.js';
import { IncidentStepForm } from './incident-step-form.js';
import { ReasonButton } from '../shared/reason-button.js';

/** What a stranger needs first: the state, what is next, and when it is due. */
export function IncidentLife({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  const [mayStep, mayBack] = [useMay(investigators), useMay(closers)];
  const back = useTakeBack(incident.id);
  const place = incidentStates.indexOf(incident.state);
  const next = incidentStates[place + 1];
  return (
    <section>
      <Paper withBorder p="md">
        <Stack gap="md">
          <Group gap="md" align="center">
            <Title order={2} size="h4">{t('life.title')}</Title>
            <IncidentState incident={incident} />
            <Text fw={600}>{next === undefined ? t('life.nothingNext') : t('life.next', { state: t(`state.${next}`) })}</Text>
            {next === undefined ? null : <Text fw={isOverdue(incident) ? 700 : 400}>{incident.dueAt === null ? t('life.noDue') : t(isOverdue(incident) ? 'life.overdue' : 'life.due', { at: format.dateTime(incident.dueAt) })}</Text>}
          </Group>
          <SimpleGrid component="ol" cols={{ base: 2, sm: 3, xl: 6 }} spacing="sm" p={0} m={0} aria-label={t('life.path')}>
            {incidentStates.map((state, step) => <PathStep key={state} incident={incident} state={state} reached={step <= place} here={step === place} />)}
          </SimpleGrid>
          {next !== undefined && next !== 'open' && next !== 'closed' && mayStep ? <IncidentStepForm key={`${next} ${incident.id}`} incident={incident} to={next} /> : next === 'closed' ? <Text>{t('life.toDo.closed')}</Text> : null}
          {next === undefined ? null : (
            <Group gap="sm" align="flex-start" className="no-print">
              {mayStep ? <IncidentDue incident={incident} /> : null}
              {mayBack && place > 0 ? <ReasonButton label={t('step.back')} question={t('step.backWhy')} act={t('step.back')} busy={back.isPending} onDo={(reason, done) => back.mutate({ revision: incident.revision, reason }, { onSuccess: done })} /> : null}
            </Group>
          )}
          <ProblemList error={back.error} />
        </Stack>
      </Paper>
    </section>
  );
}

function PathStep({ incident, state, reached, here }: { incident: Incident; state: State; reached: boolean; here: boolean }) {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  // The last time the step was taken: it may have been stepped back from.
  const taken = reached ? incident.steps.filter((step) => (state === 'open' ? step.action === 'logged' : step.action === state)).at(-1) : undefined;
  return (
    <li style={{ listStyle: 'none' }} aria-current={here ? 'step' : undefined}>
      <Text fw={here ? 700 : 400} c={reached ? undefined : 'dimmed'}>{`${reached ? '●' : '○'} ${t(`state.${state}`)}`}</Text>
      <Text size="sm" c="dimmed">{taken ? t('life.doneBy', { who: taken.actor, at: format.dateTime(taken.at) }) : here ? t('life.now') : '–'}</Text>
    </li>
  );
}

import { Group, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Incident } from '#contract/incidents';
import { investigators } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { useUnlinkEvent } from './incident-life.queries.js';
import { eventWords } from './incident-words.js';
import { ReasonButton } from '../shared/reason-button.js';

export function IncidentEvents({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  const [unlink, mayLink] = [useUnlinkEvent(incident.id), useMay(investigators)];
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('links.events')}</Title>
      {incident.eventList.length === 0 ? <Text c="dimmed">{t('links.noEvents')}</Text> : null}
      <Stack component="ul" gap={6} p={0} m={0}>
        {incident.eventList.map(({ id, at, kind, machine, text, reason, linkedBy }) => (
          <Group component="li" key={id} gap="sm">
            <Text>{t('links.event', { at: format.dateTime(at), kind: eventWords(kind), machine: machine === null ? '' : t('links.onMachine', { machine }), text })}</Text>
            <Text size="sm" c="dimmed">{[reason === '' ? null : t('links.why', { reason }), t('links.by', { name: linkedBy })].filter((part) => part !== null).join(' · ')}</Text>
            {mayLink ? <ReasonButton label={t('links.unlink')} name={t('links.unlinkFor', { id })} question={t('links.reason')} act={t('links.do')} busy={unlink.isPending} onDo={(why, done) => unlink.mutate({ eventId: id, reason: why }, { onSuccess: done })} /> : null}
          </Group>
        ))}
      </Stack>
      <ProblemList error={unlink.error} />
    </section>
  );
}

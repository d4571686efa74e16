import { Anchor, Group, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { Incident } from '#contract/incidents';
import { investigators } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { partWords, ruleWords, sideWords } from './incident-words.js';
import { useUnlinkSignal } from './incidents.queries.js';
import { ReasonButton } from '../shared/reason-button.js';

export function IncidentSignals({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidents');
  const { t: life } = useTranslation('incidentLife');
  const format = useFormat();
  const [unlink, mayLink] = [useUnlinkSignal(incident.id), useMay(investigators)];
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('signals.title')}</Title>
      {incident.signalList.length === 0 ? <Text c="dimmed">{t('signals.none')}</Text> : null}
      <Stack component="ul" gap={6} p={0} m={0}>
        {incident.signalList.map((signal) => (
          <Group component="li" key={signal.id} gap="sm">
            <Anchor component={Link} to={`/signals/${signal.id}`} underline="always">{t('signals.about', { id: signal.id, characteristic: signal.characteristicName, machine: signal.machine, part: partWords(signal) })}</Anchor>
            <Text size="sm" c="dimmed">{[format.dateTime(signal.firedAt), t('signals.said', { rule: ruleWords(t, signal.rule), side: sideWords(t, signal.side) }), signal.state, ...(signal.reason === '' ? [] : [life('links.why', { reason: signal.reason })])].join(' · ')}</Text>
            {mayLink ? <ReasonButton label={t('signals.unlink')} name={life('links.removeSignal', { id: signal.id })} question={life('links.reason')} act={life('links.do')} busy={unlink.isPending} onDo={(reason, done) => unlink.mutate({ signalId: signal.id, reason }, { onSuccess: done })} /> : null}
          </Group>
        ))}
      </Stack>
      <ProblemList error={unlink.error} />
    </section>
  );
}

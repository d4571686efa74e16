import { Anchor, Button, Group, Table, Text } from '@mantine/core';
import { useCallback, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { Incident, Surrounding } from '#contract/incidents';
import { investigators } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { StateBadge } from '../shared/state-badge.js';
import { eventWords, partWords, ruleWords, sideWords } from './incident-words.js';
import { useLinkEvent } from './incident-life.queries.js';
import { useLinkSignal } from './incidents.queries.js';
import { ReasonButton } from '../shared/reason-button.js';

/** One record as a sentence, for the table and the chart. */
export function useDescribe(): (entry: Surrounding) => string {
  const { t } = useTranslation('incidents');
  const format = useFormat();
  return useCallback((entry: Surrounding) => {
    switch (entry.kind) {
      case 'check': return t('entry.check', { inspector: entry.inspector });
      case 'signal': return t('entry.signal', { characteristic: entry.characteristicName, part: partWords(entry), rule: ruleWords(t, entry.rule), side: sideWords(t, entry.side) });
      case 'event': return [t('entry.event', { kind: eventWords(entry.eventKind), text: entry.text }), entry.until === null ? null : t('entry.until', { until: format.dateTime(entry.until) }), t('entry.by', { actor: entry.actor })].filter((part) => part !== null).join(', ');
      case 'missed': {
        const about = { plan: entry.plan, until: format.dateTime(entry.until), due: entry.due };
        if (entry.openedBy !== null) return t('entry.missedEvent', { ...about, kind: entry.openedBy.replaceAll('-', ' ') });
        return entry.everyCans !== null ? t('entry.missedCans', { ...about, every: entry.everyCans }) : t('entry.missed', { ...about, every: entry.everyMinutes ?? '' });
      }
    }
  }, [t, format]);
}

/** The same records as the chart, in order, for reading and for the keyboard. */
export function SurroundingsTable({ incident, entries }: { incident: Incident; entries: readonly Surrounding[] }) {
  const { t } = useTranslation('incidents');
  const format = useFormat();
  const describe = useDescribe();
  const [all, setAll] = useState(false);
  const shown = all ? entries : nearest(entries, incident.madeAt);
  const { t: life } = useTranslation('incidentLife');
  const [link, linkEvent, mayLink] = [useLinkSignal(incident.id), useLinkEvent(incident.id), useMay(investigators)];
  const offset = (at: string) => {
    const minutes = Math.round((Date.parse(at) - Date.parse(incident.madeAt)) / 60_000);
    return minutes === 0 ? t('around.atMade') : t('around.minutes', { sign: minutes < 0 ? '−' : '+', hours: Math.floor(Math.abs(minutes) / 60), minutes: Math.abs(minutes) % 60 });
  };
  return (
    <>
      <ProblemList error={link.error ?? linkEvent.error} />
      <Table.ScrollContainer minWidth={760}>
        <Table verticalSpacing="xs">
          <Table.Caption>{t('around.caption', { line: incident.line })}</Table.Caption>
          <Table.Thead><Table.Tr>{(['at', 'offset', 'where', 'what'] as const).map((head) => <Table.Th key={head} scope="col">{t(`around.${head}`)}</Table.Th>)}<Table.Td /></Table.Tr></Table.Thead>
          <Table.Tbody>
            {shown.map((entry) => (
              <Table.Tr key={keyOf(entry)}>
                <Table.Th scope="row">{format.dateTime(entry.at)}</Table.Th>
                <Table.Td>{offset(entry.at)}</Table.Td>
                <Table.Td>{entry.machine ?? t('around.wholeLine')}<Text size="xs" c="dimmed">{entry.machineName}</Text></Table.Td>
                <Table.Td>
                  {entry.kind === 'check' ? <Anchor component={Link} to={`/checks/${entry.checkId}`} underline="always" display="inline-block" py={6}>{describe(entry)}</Anchor>
                    : entry.kind === 'signal' ? <Anchor component={Link} to={`/signals/${entry.signalId}`} underline="always" display="inline-block" py={6}>{describe(entry)}</Anchor> : <Text>{describe(entry)}</Text>}
                </Table.Td>
                <Table.Td>
                  {entry.kind === 'check' ? <StateBadge state={entry.status} /> : entry.kind === 'missed' ? <StateBadge state="due" word={t('entry.missedWord')} /> : null}
                  {entry.kind === 'signal' ? (entry.linked ? <Text size="sm">{t('signals.linked')}</Text>
                    : mayLink ? <ReasonButton optional label={t('signals.link')} name={t('signals.linkFor', { act: t('signals.link'), id: entry.signalId })} question={life('links.reasonMay')} act={t('signals.link')} busy={link.isPending} onDo={(reason, done) => link.mutate({ signalId: entry.signalId, reason }, { onSuccess: done })} /> : null) : null}
                  {entry.kind === 'event' ? (incident.eventList.some(({ id }) => id === entry.eventId) ? <Text size="sm">{life('links.linked')}</Text>
                    : mayLink ? <ReasonButton optional label={life('links.link')} name={life('links.linkFor', { id: entry.eventId })} question={life('links.reasonMay')} act={life('links.link')} busy={linkEvent.isPending} onDo={(reason, done) => linkEvent.mutate({ eventId: entry.eventId, reason }, { onSuccess: done })} /> : null) : null}
                </Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      {shown.length < entries.length ? (
        <Group gap="sm"><Text c="dimmed">{t('around.nearest', { shown: shown.length })}</Text><Button variant="default" size="md" onClick={() => setAll(true)}>{t('around.all', { count: entries.length })}</Button></Group>
      ) : null}
    </>
  );
}

const FIRST_SHOWN = 40;
/** The records nearest to the moment, in their order. */
function nearest(entries: readonly Surrounding[], moment: string): readonly Surrounding[] {
  const distance = ({ at }: Surrounding) => Math.abs(Date.parse(at) - Date.parse(moment));
  const near = new Set([...entries].sort((a, b) => distance(a) - distance(b)).slice(0, FIRST_SHOWN));
  return entries.filter((entry) => near.has(entry));
}

function keyOf(entry: Surrounding): string {
  switch (entry.kind) {
    case 'check': return `check ${entry.checkId}`;
    case 'signal': return `signal ${entry.signalId}`;
    case 'event': return `event ${entry.eventId}`;
    case 'missed': return `missed ${entry.machineId} ${entry.plan} ${entry.everyCans ?? entry.openedBy ?? ''} ${entry.at}`;
  }
}

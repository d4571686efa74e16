import { Anchor, Button, Group, Stack, Text, Textarea, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { Incident } from '#contract/incidents';
import { closers, investigators } from '#contract/roles';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { useCloseIncident, useReopenIncident } from './incidents.queries.js';

/** Closing asks for a note, and where no effect is verified for the reason; then it offers to keep the lesson. */
export function IncidentClose({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidents');
  const { t: life } = useTranslation('incidentLife');
  const [mayClose, mayWrite] = [useMay(closers), useMay(investigators)];
  const [close, reopen] = [useCloseIncident(incident.id), useReopenIncident(incident.id)];
  const [text, setText] = useState('');
  const [without, setWithout] = useState('');
  const closed = incident.state === 'closed';
  const ready = incident.state === 'effect-verified' || incident.state === 'action-taken';
  const needsReason = incident.state === 'action-taken';
  if (!closed && !mayClose) return null;
  const act = () => {
    const [revision, words] = [incident.revision, text.trim()];
    if (closed) reopen.mutate({ revision, reason: words }, { onSuccess: () => setText('') });
    else close.mutate({ revision, closingNote: words, withoutVerification: needsReason ? without.trim() : '' }, { onSuccess: () => { setText(''); setWithout(''); } });
  };
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('close.title')}</Title>
      <Stack gap="sm" maw={820}>
        {closed ? <Text>{t('close.done', { note: incident.closingNote })}</Text> : null}
        {closed && incident.verificationId !== null ? <Text>{life('close.verified', { verdict: incident.verdict })}</Text> : null}
        {closed && incident.closedWithout !== '' ? <Text>{life('close.closedWithout', { reason: incident.closedWithout })}</Text> : null}
        {closed && mayWrite ? <Anchor component={Link} to={`/past-fixes/new?incident=${incident.id}`} underline="always">{t('close.offer')}</Anchor> : null}
        {closed || ready ? null : <Text c="dimmed">{life('close.notYet')}</Text>}
        {mayClose && (closed || ready) ? (
          <>
            {needsReason ? <Textarea size="md" label={life('close.without')} description={life('close.withoutHint')} required autosize minRows={2} maxLength={8000} value={without} onChange={({ currentTarget }) => setWithout(currentTarget.value)} /> : null}
            <Textarea size="md" label={closed ? t('close.reopenWhy') : life('close.note')} description={closed ? undefined : life('close.noteHint')} required autosize minRows={2} maxLength={8000} value={text} onChange={({ currentTarget }) => setText(currentTarget.value)} />
            <ProblemList error={closed ? reopen.error : close.error} />
            <Group><Button size="md" variant={closed ? 'default' : 'filled'} loading={close.isPending || reopen.isPending} disabled={text.trim() === '' || (needsReason && without.trim() === '')} onClick={act}>{closed ? t('close.reopen') : t('close.do')}</Button></Group>
          </>
        ) : null}
        <Text size="sm" c="dimmed">{t('close.noRelease')}</Text>
      </Stack>
    </section>
  );
}

import { Anchor, Button, Group, Stack, Text, Textarea, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { Incident } from '#contract/incidents';
import { closers, investigators } from '#contract/roles';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { useCloseIncident, useReopenIncident } from './incidents.queries.js';

/** Closing asks for cause, action and how the effect was verified, then offers to keep the lesson. */
export function IncidentClose({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidents');
  const [mayClose, mayWrite] = [useMay(closers), useMay(investigators)];
  const [close, reopen] = [useCloseIncident(incident.id), useReopenIncident(incident.id)];
  const [text, setText] = useState('');
  const closed = incident.state === 'closed';
  const missing = (['cause', 'action'] as const).filter((name) => incident[name].trim() === '').map((name) => t(`texts.${name}`).toLowerCase());
  if (!closed && !mayClose) return null;
  const act = () => {
    const [revision, words] = [incident.revision, text.trim()];
    if (closed) reopen.mutate({ revision, reason: words }, { onSuccess: () => setText('') });
    else close.mutate({ revision, closingNote: words }, { onSuccess: () => setText('') });
  };
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('close.title')}</Title>
      <Stack gap="sm" maw={820}>
        {closed ? <Text>{t('close.done', { note: incident.closingNote })}</Text> : null}
        {closed && mayWrite ? <Anchor component={Link} to={`/past-fixes/new?incident=${incident.id}`} underline="always">{t('close.offer')}</Anchor> : null}
        {!closed && missing.length > 0 ? <Text>{t('close.missing', { what: missing.join(', ') })}</Text> : null}
        {mayClose ? (
          <>
            <Textarea size="md" label={closed ? t('close.reopenWhy') : t('close.note')} description={closed ? undefined : t('close.noteHint')} autosize minRows={2} maxLength={8000} value={text} onChange={({ currentTarget }) => setText(currentTarget.value)} />
            <ProblemList error={closed ? reopen.error : close.error} />
            <Group><Button size="md" variant={closed ? 'default' : 'filled'} loading={close.isPending || reopen.isPending} disabled={text.trim() === '' || (!closed && missing.length > 0)} onClick={act}>{closed ? t('close.reopen') : t('close.do')}</Button></Group>
          </>
        ) : null}
        <Text size="sm" c="dimmed">{t('close.noRelease')}</Text>
      </Stack>
    </section>
  );
}

import { Button, Group, NativeSelect, Paper, Stack, Text, Textarea, Title } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { closers, investigators } from '#contract/roles';
import { acknowledgers, type SignalPage } from '#contract/signals';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { useSignalChange } from './signals.queries.js';

type Change = ReturnType<typeof useSignalChange>;
const LEAST_TEXT = 3;

/** The steps that are possible now, for this person. */
export function SignalActions({ view }: { view: SignalPage }) {
  const { t } = useTranslation('signals');
  const { state, id } = view.signal;
  const change = useSignalChange(id);
  const [mayTake, mayAssign, mayClose] = [useMay(acknowledgers), useMay(investigators), useMay(closers)];
  const taken = state === 'acknowledged' || state === 'cause-assigned';
  const nothing = !(state === 'open' && mayTake) && !(taken && (mayAssign || mayClose)) && !(state === 'closed' && mayClose);
  return (
    <Paper withBorder p="md" component="section" className="no-print">
      <Stack gap="md">
        <Title order={2} size="h4">{t('actions.title')}</Title>
        {state === 'closed' ? <Text>{t('actions.closed')}</Text> : null}
        {state === 'open' && mayTake ? <Group><Button size="lg" loading={change.isPending} onClick={() => change.mutate({ act: 'acknowledge', state })}>{t('actions.acknowledge')}</Button><Text c="dimmed">{t('actions.acknowledgeText')}</Text></Group> : null}
        {taken && mayAssign ? <AssignForm key={state} view={view} change={change} /> : null}
        {taken && mayClose ? <TextForm label={t('actions.comment')} hint={t('actions.commentHint')} button={t('actions.close')} caution={t('actions.closeCaution')} busy={change.isPending} send={(comment) => change.mutate({ act: 'close', state, comment })} /> : null}
        {state === 'closed' && mayClose ? <TextForm label={t('actions.reason')} button={t('actions.reopen')} busy={change.isPending} send={(comment) => change.mutate({ act: 'reopen', state, comment })} /> : null}
        {nothing && state !== 'closed' ? <Text>{t('actions.nothing')}</Text> : null}
        <ProblemList error={change.error} />
      </Stack>
    </Paper>
  );
}

function AssignForm({ view: { signal, notes }, change }: { view: SignalPage; change: Change }) {
  const { t } = useTranslation('signals');
  const [cause, setCause] = useState(signal.cause ?? '');
  const [noteId, setNoteId] = useState('');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    change.mutate({ act: 'assign', state: signal.state, cause, noteId: noteId === '' ? undefined : Number(noteId) });
  };
  return (
    <form onSubmit={submit}>
      <Stack gap="xs">
        <Textarea size="md" label={t('actions.cause')} description={t('actions.causeHint')} value={cause} onChange={({ currentTarget: { value } }) => setCause(value)} autosize minRows={2} maxLength={4000} required />
        {notes.length > 0 ? <NativeSelect size="md" label={t('actions.note')} value={noteId} onChange={({ currentTarget: { value } }) => setNoteId(value)} data={[{ value: '', label: t('actions.noNote') }, ...notes.map((note) => ({ value: String(note.noteId), label: note.noteTitle }))]} /> : null}
        <Group><Button type="submit" size="md" loading={change.isPending} disabled={cause.trim().length < LEAST_TEXT}>{signal.cause === null ? t('actions.assign') : t('actions.reassign')}</Button></Group>
      </Stack>
    </form>
  );
}

function TextForm({ label, hint, button, caution, busy, send }: { label: string; hint?: string; button: string; caution?: string; busy: boolean; send: (text: string) => void }) {
  const [text, setText] = useState('');
  return (
    <form onSubmit={(event) => { event.preventDefault(); send(text); }}>
      <Stack gap="xs">
        <Textarea size="md" label={label} description={hint} value={text} onChange={({ currentTarget: { value } }) => setText(value)} autosize minRows={2} maxLength={4000} required />
        <Group><Button type="submit" size="md" variant="default" loading={busy} disabled={text.trim().length < LEAST_TEXT}>{button}</Button>{caution ? <Text size="sm" fw={600}>{caution}</Text> : null}</Group>
      </Stack>
    </form>
  );
}

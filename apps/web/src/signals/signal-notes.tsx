import { Anchor, Button, Group, Paper, Stack, Text, TextInput, Title } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { NoteLink } from '#contract/knowledge';
import { investigators } from '#contract/roles';
import type { SignalPage } from '#contract/signals';
import { useFormat } from '../shared/format.js';
import { useReasonWords } from '../shared/note-reasons.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { QueryView } from '../shared/states.js';
import { useFixSearch, useSignalChange } from './signals.queries.js';

/** What fixed it the last time: linked notes, suggested ones with the reason, and the way to find or write another. */
export function SignalNotes({ view }: { view: SignalPage }) {
  const { t } = useTranslation('signals');
  const may = useMay(investigators);
  const change = useSignalChange(view.signal.id);
  return (
    <Paper withBorder p="md" component="section">
      <Stack gap="sm">
        <Group justify="space-between">
          <Title order={2} size="h4">{t('notes.title')}</Title>
          {may ? <Button component={Link} to={`/past-fixes/new?signal=${view.signal.id}`} variant="default" size="md">{t('notes.write')}</Button> : null}
        </Group>
        {view.notes.length === 0 ? <Text c="dimmed">{t('notes.none')}</Text> : view.notes.map((note) => (
          <NoteEntry key={note.id} note={note} may={may} busy={change.isPending} confirm={() => change.mutate({ act: 'link', noteId: note.noteId })} remove={() => change.mutate({ act: 'unlink', linkId: note.id })} />
        ))}
        <ProblemList error={change.error} />
        {may ? <NoteSearch linked={view.notes.filter(({ confirmedBy }) => confirmedBy !== null).map(({ noteId }) => noteId)} busy={change.isPending} link={(noteId) => change.mutate({ act: 'link', noteId })} /> : null}
      </Stack>
    </Paper>
  );
}

function NoteEntry({ note, may, busy, confirm, remove }: { note: NoteLink; may: boolean; busy: boolean; confirm: () => void; remove: () => void }) {
  const { t } = useTranslation('signals');
  const format = useFormat();
  const why = useReasonWords()(note);
  const suggested = note.confirmedBy === null;
  return (
    <Group justify="space-between" align="flex-start" wrap="nowrap">
      <div>
        <Text><Text span fw={600}>{suggested ? t('notes.suggested') : t('notes.confirmed')}</Text> · <Anchor component={Link} to={`/past-fixes/${note.noteId}`}>{note.noteTitle}</Anchor></Text>
        <Text size="sm">{t('notes.fix', { fix: note.noteFix })}</Text>
        {why ? <Text size="sm" c="dimmed">{t('notes.why', { reason: why })}</Text> : null}
        {note.confirmedBy !== null && note.confirmedAt ? <Text size="sm" c="dimmed">{t('notes.by', { name: note.confirmedBy, at: format.dateTime(note.confirmedAt) })}</Text> : null}
      </div>
      {may ? (
        <Group gap="xs" wrap="nowrap" flex="none">
          {suggested ? <Button size="md" variant="default" disabled={busy} onClick={confirm}>{t('notes.confirm')}</Button> : null}
          <Button size="md" variant="subtle" disabled={busy} onClick={remove}>{suggested ? t('notes.reject') : t('notes.unlink')}</Button>
        </Group>
      ) : null}
    </Group>
  );
}

function NoteSearch({ linked, busy, link }: { linked: readonly number[]; busy: boolean; link: (noteId: number) => void }) {
  const { t } = useTranslation('signals');
  const [text, setText] = useState('');
  const [q] = useDebouncedValue(text, 250);
  const hits = useFixSearch(q);
  return (
    <Stack gap="xs">
      <TextInput size="md" type="search" label={t('notes.search')} description={t('notes.searchHint')} value={text} onChange={({ currentTarget: { value } }) => setText(value)} maxLength={200} />
      {q.trim().length < 2 ? null : (
        <QueryView query={hits} what={t('notes.searching')} isEmpty={(data) => data.hits.length === 0} empty={<Text>{t('notes.noHits')}</Text>}>
          {(data) => data.hits.map((hit) => (
            <Group key={hit.id} justify="space-between" wrap="nowrap">
              <div><Anchor component={Link} to={`/past-fixes/${hit.id}`}>{hit.title.map((part) => part.text).join('')}</Anchor><Text size="sm">{t('notes.fix', { fix: hit.fix })}</Text></div>
              {linked.includes(hit.id) ? <Text c="dimmed">{t('notes.confirmed')}</Text> : <Button size="md" variant="default" flex="none" disabled={busy} onClick={() => link(hit.id)}>{t('notes.link')}</Button>}
            </Group>
          ))}
        </QueryView>
      )}
    </Stack>
  );
}

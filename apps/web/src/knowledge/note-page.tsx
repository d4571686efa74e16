import { Button, Stack, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link, useParams } from 'react-router';
import type { Note } from '#contract/knowledge';
import { investigators } from '#contract/roles';
import { DefectFacts } from '../shared/defect-facts.js';
import { stepWords, useDefects } from '../shared/defects.queries.js';
import { useFormat } from '../shared/format.js';
import { usePlant } from '../shared/plant.queries.js';
import { useMay } from '../shared/session.js';
import { Page, QueryView } from '../shared/states.js';
import { useNote, useReviseNote } from './knowledge.queries.js';
import { NoteForm } from './note-form.js';
import { NoteLinks } from './note-links.js';

export function NotePage() {
  const { t } = useTranslation('knowledge');
  const { id } = useParams();
  const note = useNote(Number(id));
  return <QueryView query={note} what={t('loadingNote')}>{(data) => <ShownNote key={data.id} note={data} />}</QueryView>;
}

function ShownNote({ note }: { note: Note }) {
  const { t } = useTranslation('knowledge');
  const [editing, setEditing] = useState(false);
  const mayRevise = useMay(investigators);
  const actions = (
    <>
      <Button component={Link} to="/past-fixes" variant="default" size="md">{t('note.back')}</Button>
      {mayRevise && !editing ? <Button size="md" onClick={() => setEditing(true)}>{t('note.edit')}</Button> : null}
    </>
  );
  return <Page title={note.title} actions={actions}>{editing ? <Revision note={note} onDone={() => setEditing(false)} /> : <Texts note={note} />}</Page>;
}

function Texts({ note }: { note: Note }) {
  const { t } = useTranslation('knowledge');
  const format = useFormat();
  const defects = useDefects();
  const defect = defects.data?.defects.find(({ code }) => code === note.defect);
  return (
    <Stack gap="md" maw={820}>
      <Text c="dimmed">{[note.defectName, stepWords(note.stepKind), note.machine ?? t('note.anyMachine')].join(' · ')}</Text>
      {(['symptom', 'place', 'cause', 'howToCheck', 'fix', 'verified'] as const).map((name) => (note[name] === '' && name !== 'verified' ? null : (
        <section key={name}>
          <Title order={2} size="h4">{t(`note.${name}`)}</Title>
          <Text style={{ whiteSpace: 'pre-wrap' }}>{note[name] === '' ? t('note.notVerified') : note[name]}</Text>
        </section>
      )))}
      {defect ? <DefectFacts defect={defect} /> : null}
      <NoteLinks links={note.links} />
      <Text>{t('note.helped', { count: note.helped })}</Text>
      <Text size="sm" c="dimmed">{t('form.caution')}</Text>
      <Text size="sm" c="dimmed">{t('note.by', { author: note.author, date: format.date(note.createdAt), revision: note.revision, changed: format.dateTime(note.changedAt) })}</Text>
    </Stack>
  );
}

function Revision({ note, onDone }: { note: Note; onDone: () => void }) {
  const { t } = useTranslation('knowledge');
  const [defects, plant, revise] = [useDefects(), usePlant(), useReviseNote(note.id)];
  // The revision that was read when editing began: a change by somebody else is then noticed.
  const [revision] = useState(note.revision);
  return (
    <QueryView query={defects} what={t('loadingDefects')}>
      {(known) => (
        <QueryView query={plant} what={t('loadingDefects')}>
          {({ lines }) => (
            <NoteForm first={note} defects={known.defects} stepKinds={known.stepKinds} lines={lines} busy={revise.isPending} error={revise.error} save={t('note.save')} onCancel={onDone}
              onSave={({ title, symptom, place, cause, howToCheck, fix, verified, defect, stepKind, machineId }) => revise.mutate({ title, symptom, place, cause, howToCheck, fix, verified, defect, stepKind, machineId, revision }, { onSuccess: onDone })} />
          )}
        </QueryView>
      )}
    </QueryView>
  );
}

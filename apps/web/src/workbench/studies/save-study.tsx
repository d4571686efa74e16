import { Button, Group, Text, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useContext, useMemo, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { recorders } from '#contract/roles';
import { ProblemList } from '../../shared/problem-list.js';
import { SessionContext } from '../../shared/session.js';
import type { WorkbenchState } from '../choices.js';
import { Section } from '../section.js';
import { MOST_BYTES, studyRequests } from './study-requests.js';
import { useSaveStudy } from './workbench.queries.js';

type Props = { state: WorkbenchState; bodies: Readonly<Record<string, object | null>> };

/** Keeps what is on the screen; shown to those who may record, and to nobody who has not signed in. */
export function SaveStudy(props: Props) {
  const role = useContext(SessionContext)?.person?.role;
  return role && recorders.includes(role) ? <SaveForm {...props} /> : null;
}

function SaveForm({ state, bodies }: Props) {
  const { t } = useTranslation('workbench');
  const [title, setTitle] = useState('');
  const [note, setNote] = useState('');
  const [asked, setAsked] = useState(false);
  const save = useSaveStudy();
  const requests = useMemo(() => studyRequests(bodies), [bodies]);
  // An estimate before anything is written out: a reading is about eight characters, and several methods are given all of them.
  const tooLarge = state.text.length * (requests.length + 1) > MOST_BYTES;
  const unfinished = bodies.chart === null || bodies.chart === undefined;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    setAsked(true);
    if (title.trim() === '' || tooLarge || unfinished) return;
    save.mutate({ title, note, state: { ...state }, requests }, { onSuccess: () => { setTitle(''); setNote(''); setAsked(false); } });
  };
  return (
    <Section title={t('studies.title')}>
      <Text>{t('studies.intro')}</Text>
      <form onSubmit={submit} noValidate>
        <TextInput label={t('studies.name')} size="md" value={title} maxLength={200} required error={asked && title.trim() === '' ? t('studies.nameNeeded') : undefined} onChange={({ currentTarget: { value } }) => { setTitle(value); save.reset(); }} />
        <Textarea label={t('studies.note')} size="md" value={note} maxLength={4000} autosize minRows={2} onChange={({ currentTarget: { value } }) => setNote(value)} />
        <Group mt="sm"><Button type="submit" size="md" variant="default" loading={save.isPending} disabled={tooLarge || unfinished}>{t('studies.save')}</Button></Group>
      </form>
      {tooLarge ? <Text>{t('studies.tooLarge')}</Text> : unfinished ? <Text>{t('studies.unfinished')}</Text> : null}
      {save.isError ? <ProblemList error={save.error} /> : null}
      <Text role="status">{save.isPending ? t('studies.saving') : save.data ? t('studies.saved', { id: save.data.id }) : ''}</Text>
    </Section>
  );
}

import { Button, Group, List, Stack, Text, Textarea, TextInput, Title } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { Incident } from '#contract/incidents';
import { investigators } from '#contract/roles';
import { useMay } from '../shared/session.js';
import { ConflictNotice } from './conflict-notice.js';
import { useSetWhys } from './incident-life.queries.js';

const MOST = 7;

export function IncidentWhys({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidentLife');
  const [editing, setEditing] = useState(false);
  const mayEdit = useMay(investigators) && incident.state !== 'closed';
  return (
    <section>
      <Group pb="xs"><Title order={2} size="h4">{t('whys.title')}</Title>{mayEdit && !editing ? <Button variant="default" onClick={() => setEditing(true)}>{t('whys.edit')}</Button> : null}</Group>
      {editing ? <Editor incident={incident} onDone={() => setEditing(false)} /> : incident.whys.length === 0 ? <Text c="dimmed">{t('whys.none')}</Text> : (
        <List type="ordered" maw={820}>{incident.whys.map(({ question, answer }) => <List.Item key={`${question} ${answer}`}><Text fw={600}>{question}</Text><Text>{answer}</Text></List.Item>)}</List>
      )}
    </section>
  );
}

function Editor({ incident, onDone }: { incident: Incident; onDone: () => void }) {
  const { t } = useTranslation('incidentLife');
  const save = useSetWhys(incident.id);
  const [rows, setRows] = useState(() => (incident.whys.length > 0 ? incident.whys : [{ question: t('whys.first'), answer: '' }]).map((row, place) => ({ ...row, key: place })));
  const [nextKey, setNextKey] = useState(MOST);
  const [revision, setRevision] = useState(incident.revision);
  const change = (at: number, part: Partial<(typeof rows)[number]>) => setRows(rows.map((row, place) => (place === at ? { ...row, ...part } : row)));
  const whole = rows.every(({ question, answer }) => question.trim() !== '' && answer.trim() !== '');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (whole) save.mutate({ revision, whys: rows.map(({ question, answer }) => ({ question, answer })) }, { onSuccess: onDone });
  };
  return (
    <form onSubmit={submit}>
      <Stack gap="sm" maw={820}>
        {rows.map((row, place) => (
          <Stack gap={4} key={row.key}>
            <TextInput size="md" label={t('whys.question', { number: place + 1 })} maxLength={200} value={row.question} onChange={({ currentTarget }) => change(place, { question: currentTarget.value })} />
            <Textarea size="md" label={t('whys.answer', { number: place + 1 })} autosize minRows={1} maxLength={1000} value={row.answer} onChange={({ currentTarget }) => change(place, { answer: currentTarget.value })} />
            <Group><Button variant="subtle" onClick={() => setRows(rows.filter((_row, other) => other !== place))}>{t('whys.remove', { number: place + 1 })}</Button></Group>
          </Stack>
        ))}
        {whole ? null : <Text size="sm" role="status">{t('whys.incomplete')}</Text>}
        <ConflictNotice error={save.error} incidentId={incident.id} shown={(newest) => newest.whys.map(({ question, answer }) => `${question} ${answer}`).join('\n')} onFresh={(fresh) => { setRevision(fresh); save.reset(); }} />
        <Group>
          {rows.length < MOST ? <Button variant="default" size="md" onClick={() => { setRows([...rows, { question: rows.length === 0 ? t('whys.first') : t('whys.next'), answer: '', key: nextKey }]); setNextKey(nextKey + 1); }}>{t('whys.add')}</Button> : null}
          <Button type="submit" size="md" loading={save.isPending} disabled={!whole}>{t('whys.save')}</Button>
          <Button variant="default" size="md" onClick={onDone}>{t('whys.cancel')}</Button>
        </Group>
      </Stack>
    </form>
  );
}

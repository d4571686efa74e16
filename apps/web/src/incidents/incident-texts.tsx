import { Button, Group, SimpleGrid, Stack, Text, Textarea, TextInput, Title } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { Incident } from '#contract/incidents';
import { investigators } from '#contract/roles';
import { ProblemError } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { useChangeIncident, useIncident } from './incidents.queries.js';

const TEXTS = ['containment', 'cause', 'action'] as const;

export function IncidentTexts({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidents');
  const { t: life } = useTranslation('incidentLife');
  const [editing, setEditing] = useState(false);
  const mayEdit = useMay(investigators) && incident.state !== 'closed';
  return (
    <section>
      <Group pb="xs"><Title order={2} size="h4">{t('texts.title')}</Title>{mayEdit && !editing ? <Button variant="default" onClick={() => setEditing(true)}>{t('texts.edit')}</Button> : null}</Group>
      {editing ? <Editor incident={incident} onDone={() => setEditing(false)} /> : (
        <SimpleGrid cols={{ base: 1, md: 3 }}>
          {TEXTS.map((name) => <div key={name}><Text fw={600}>{t(`texts.${name}`)}</Text><Text style={{ whiteSpace: 'pre-wrap' }} c={incident[name] === '' ? 'dimmed' : undefined}>{incident[name] === '' ? t('texts.none') : incident[name]}</Text>{name === 'cause' && incident.causeCategory !== null ? <Text size="sm" c="dimmed">{[life(`category.${incident.causeCategory}`), incident.causeMachine?.code].filter(Boolean).join(', ')}</Text> : null}</div>)}
        </SimpleGrid>
      )}
    </section>
  );
}

/** Saves against the revision that was read when editing began; what was typed stays through a conflict. */
function Editor({ incident, onDone }: { incident: Incident; onDone: () => void }) {
  const { t } = useTranslation('incidents');
  const [draft, setDraft] = useState({ containment: incident.containment, cause: incident.cause, action: incident.action, cansExamined: String(incident.cansExamined), cansLeaking: String(incident.cansLeaking) });
  const [revision, setRevision] = useState(incident.revision);
  const [compare, setCompare] = useState<Incident | null>(null);
  const [newest, change] = [useIncident(incident.id), useChangeIncident(incident.id)];
  const conflict = change.error instanceof ProblemError && change.error.problem.code === 'changed-meanwhile';
  const cans = [draft.cansExamined, draft.cansLeaking].map((text) => (/^\d{1,9}$/.test(text.trim()) ? Number(text) : null));
  const [cansExamined, cansLeaking] = cans;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (cansExamined === null || cansLeaking === null) return;
    change.mutate({ revision, containment: draft.containment, cause: draft.cause, action: draft.action, cansExamined, cansLeaking }, { onSuccess: onDone });
  };
  const number = (name: 'cansExamined' | 'cansLeaking', label: string, value: number | null | undefined) => (
    <TextInput size="md" inputMode="numeric" label={label} value={draft[name]} error={value === null ? t('form.cansNeeded') : undefined} onChange={({ currentTarget }) => setDraft((before) => ({ ...before, [name]: currentTarget.value }))} />
  );
  return (
    <form onSubmit={submit}>
      <Stack gap="sm" maw={820}>
        {TEXTS.map((name) => <Textarea key={name} size="md" label={t(`texts.${name}`)} autosize minRows={2} maxLength={8000} value={draft[name]} onChange={({ currentTarget }) => setDraft((before) => ({ ...before, [name]: currentTarget.value }))} />)}
        <Group grow align="flex-start">{number('cansExamined', t('form.examined'), cansExamined)}{number('cansLeaking', t('form.leaking'), cansLeaking)}</Group>
        {conflict ? (
          <div role="alert">
            <Text>{t('texts.changedMeanwhile')}</Text>
            <Button variant="default" mt="xs" onClick={() => void newest.refetch().then(({ data }) => { if (data) { setRevision(data.revision); setCompare(data); change.reset(); } })}>{t('texts.loadNewest')}</Button>
          </div>
        ) : <ProblemList error={change.error} />}
        {compare ? <NewestTexts incident={compare} /> : null}
        <Group><Button type="submit" size="md" loading={change.isPending}>{t('texts.save')}</Button><Button variant="default" size="md" onClick={onDone}>{t('texts.cancel')}</Button></Group>
      </Stack>
    </form>
  );
}

function NewestTexts({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidents');
  return (
    <section aria-label={t('texts.newest')}>
      <Text fw={600} size="sm">{t('texts.newest')}</Text>
      {TEXTS.map((name) => <Text key={name} size="sm">{`${t(`texts.${name}`)}: ${incident[name] === '' ? t('texts.none') : incident[name]}`}</Text>)}
    </section>
  );
}

import { Button, Group, NativeSelect, SimpleGrid, Stack, Text, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { causeCategories, type IncidentState } from '#contract/incident-shapes';
import type { Incident } from '#contract/incidents';
import { useFormat } from '../shared/format.js';
import { ConflictNotice } from './conflict-notice.js';
import { type StepBody, useTakeStep } from './incident-life.queries.js';
import { usePlant } from '../shared/plant.queries.js';

type To = Exclude<IncidentState, 'open' | 'closed'>;
type Draft = { text: string; category: string; machine: string; comparison: string; evidence: string; due: string };

const firstText = (incident: Incident, to: To): string => ({ contained: incident.containment, 'cause-found': incident.cause, 'action-taken': incident.action, 'effect-verified': '' })[to];

/** What the next step needs, with what is on record already filled in. */
export function IncidentStepForm({ incident, to }: { incident: Incident; to: To }) {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  const take = useTakeStep(incident.id);
  const lines = usePlant().data?.lines ?? [];
  const [draft, setDraft] = useState<Draft>({ text: firstText(incident, to), category: incident.causeCategory ?? '', machine: incident.causeMachine === null ? '' : String(incident.causeMachine.id), comparison: '', evidence: '', due: '' });
  // The revision that the text began with: somebody else's change since then is shown before it can be written over.
  const [base, setBase] = useState<number | null>(null);
  const set = (change: Partial<Draft>) => { setBase((before) => before ?? incident.revision); setDraft((before) => ({ ...before, ...change })); };
  const dueAt = draft.due === '' ? null : format.fromInput(draft.due);
  const badDue = draft.due !== '' && dueAt === null;
  const body = bodyOf(to, draft, base ?? incident.revision, dueAt);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (body !== null && !badDue) take.mutate(body);
  };
  const own = lines.find(({ id }) => id === incident.lineId);
  const machines = [...(own ? [own] : []), ...lines.filter(({ id }) => id !== incident.lineId)].flatMap((line) => line.steps.flatMap((step) => step.machines));
  const noComparison = to === 'effect-verified' && incident.verifications.length === 0;
  const label = { contained: t('step.containment'), 'cause-found': t('step.cause'), 'action-taken': t('step.action'), 'effect-verified': t('step.verdict') }[to];
  return (
    <form onSubmit={submit} className="no-print">
      <Stack gap="sm" maw={900}>
        <Text>{t(`life.toDo.${to}`)}</Text>
        {noComparison ? <Text role="note">{t('step.noComparison')}</Text> : null}
        {to === 'effect-verified' && !noComparison ? (
          <NativeSelect size="md" label={t('step.comparison')} required value={draft.comparison} onChange={({ currentTarget: { value } }) => set({ comparison: value })}
            data={[{ value: '', label: t('step.choose') }, ...incident.verifications.map(({ id, asked, answer }) => ({ value: String(id), label: t('step.comparisonOption', { id, what: `${answer.stream.characteristic}, ${answer.stream.machine}, ${asked.change}` }) }))]} />
        ) : null}
        {noComparison ? null : <Textarea size="md" label={label} required autosize minRows={2} maxLength={8000} value={draft.text} onChange={({ currentTarget }) => set({ text: currentTarget.value })} />}
        {to === 'cause-found' ? (
          <SimpleGrid cols={{ base: 1, sm: 2 }}>
            <NativeSelect size="md" label={t('step.category')} required value={draft.category} data={[{ value: '', label: t('step.choose') }, ...causeCategories.map((value) => ({ value, label: t(`category.${value}`) }))]} onChange={({ currentTarget: { value } }) => set({ category: value })} />
            <NativeSelect size="md" label={t('step.machine')} value={draft.machine} data={[{ value: '', label: t('step.noMachine') }, ...machines.map((machine) => ({ value: String(machine.id), label: t('step.option', machine) }))]} onChange={({ currentTarget: { value } }) => set({ machine: value })} />
          </SimpleGrid>
        ) : null}
        {noComparison ? null : (
          <>
            <SimpleGrid cols={{ base: 1, sm: 2 }}>
              <Textarea size="md" label={t('step.evidence')} description={t('step.evidenceHint')} autosize minRows={1} maxLength={8000} value={draft.evidence} onChange={({ currentTarget }) => set({ evidence: currentTarget.value })} />
              <TextInput size="md" type="datetime-local" label={t('step.due')} description={t('step.dueHint', { zone: format.timeZone })} value={draft.due} error={badDue ? t('step.badDue') : undefined} onChange={({ currentTarget }) => set({ due: currentTarget.value })} />
            </SimpleGrid>
            <ConflictNotice error={take.error} incidentId={incident.id} shown={(newest) => firstText(newest, to)} onFresh={(revision) => { setBase(revision); take.reset(); }} />
            <Group><Button type="submit" size="md" loading={take.isPending} disabled={body === null || badDue}>{t('step.take')}</Button></Group>
          </>
        )}
      </Stack>
    </form>
  );
}

/** What is sent, or null while something is missing. */
function bodyOf(to: To, { text, category, machine, comparison, evidence }: Draft, revision: number, dueAt: string | null): StepBody | null {
  const words = text.trim();
  const common = { revision, evidence: evidence.trim(), dueAt };
  if (words === '') return null;
  switch (to) {
    case 'contained': return { to, containment: words, ...common };
    case 'cause-found': {
      const causeCategory = causeCategories.find((known) => known === category);
      return causeCategory === undefined ? null : { to, cause: words, causeCategory, causeMachineId: machine === '' ? null : Number(machine), ...common };
    }
    case 'action-taken': return { to, action: words, ...common };
    case 'effect-verified': return comparison === '' ? null : { to, verdict: words, verificationId: Number(comparison), ...common };
  }
}

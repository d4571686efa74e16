import { Button, Group, NativeSelect, Stack, Text, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { DefectEntry, NoteTexts } from '#contract/knowledge';
import type { PlantTree } from '#contract/plant';
import { DefectPicker } from '../shared/defect-picker.js';
import { stepWords } from '../shared/defects.queries.js';
import { ProblemList } from '../shared/problem-list.js';

export const emptyNote: NoteTexts = { title: '', symptom: '', place: '', cause: '', howToCheck: '', fix: '', verified: '', defect: '', stepKind: '', machineId: null };

/** The texts of a note. What was typed stays until the server has taken it. */
export function NoteForm({ first, defects, stepKinds, lines, busy, error, save, onSave, onCancel }: {
  first: NoteTexts; defects: readonly DefectEntry[]; stepKinds: readonly string[]; lines: PlantTree['lines']; busy: boolean; error: unknown; save: string; onSave: (note: NoteTexts) => void; onCancel?: () => void;
}) {
  const { t } = useTranslation('knowledge');
  const [note, setNote] = useState(first);
  const [incomplete, setIncomplete] = useState(false);
  const set = (change: Partial<NoteTexts>) => setNote((before) => ({ ...before, ...change }));
  const area = (name: 'symptom' | 'cause' | 'howToCheck' | 'fix' | 'verified', required: boolean, hint?: string) => (
    <Textarea size="md" label={t(`note.${name}`)} description={hint} required={required} autosize minRows={2} maxLength={8000} value={note[name]} onChange={({ currentTarget }) => set({ [name]: currentTarget.value })} />
  );
  const machines = lines.flatMap(({ steps }) => steps.filter(({ kind }) => kind === note.stepKind).flatMap((step) => step.machines));
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const missing = [note.title, note.symptom, note.cause, note.fix, note.defect, note.stepKind].some((text) => text.trim() === '');
    setIncomplete(missing);
    if (!missing) onSave(note);
  };
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="md" maw={820}>
        <TextInput size="md" label={t('form.title')} description={t('form.titleHint')} required maxLength={200} value={note.title} onChange={({ currentTarget }) => set({ title: currentTarget.value })} />
        {area('symptom', true, t('form.symptomHint'))}
        <TextInput size="md" label={t('note.place')} description={t('form.placeHint')} maxLength={8000} value={note.place} onChange={({ currentTarget }) => set({ place: currentTarget.value })} />
        <DefectPicker label={t('form.defect')} choose={t('form.chooseDefect')} defects={defects} value={note.defect} onChange={(defect) => set({ defect })} />
        <Group grow align="flex-start">
          <NativeSelect size="md" label={t('form.step')} required value={note.stepKind} data={[{ value: '', label: t('form.chooseStep') }, ...stepKinds.map((kind) => ({ value: kind, label: stepWords(kind) }))]} onChange={({ currentTarget }) => set({ stepKind: currentTarget.value, machineId: null })} />
          <NativeSelect size="md" label={t('form.machine')} value={note.machineId === null ? '' : String(note.machineId)} disabled={machines.length === 0}
            data={[{ value: '', label: t('note.anyMachine') }, ...machines.map(({ id, code, name }) => ({ value: String(id), label: `${code} ${name}` }))]} onChange={({ currentTarget: { value } }) => set({ machineId: value === '' ? null : Number(value) })} />
        </Group>
        {area('cause', true)}
        {area('howToCheck', false)}
        {area('fix', true)}
        {area('verified', false)}
        <Text size="sm" c="dimmed">{t('form.caution')}</Text>
        {incomplete ? <Text role="alert">{t('form.whatSaid')}</Text> : null}
        {error ? <ProblemList error={error} /> : null}
        <Group>
          <Button type="submit" size="md" loading={busy}>{save}</Button>
          {onCancel ? <Button variant="default" size="md" onClick={onCancel}>{t('note.cancel')}</Button> : null}
        </Group>
      </Stack>
    </form>
  );
}

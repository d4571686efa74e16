import { Button, Group, Modal, MultiSelect, NumberInput, Select, Stack, Switch, TagsInput, Textarea, TextInput } from '@mantine/core';
import type { UseMutationResult } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { ProblemError } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';

type Option = { value: string; label: string };
export type Field =
  | { name: string; label: string; hint?: string; kind: 'text' | 'longText' | 'password' | 'dateTime' | 'date'; required?: boolean }
  | { name: string; label: string; hint?: string; kind: 'number'; required?: boolean; step?: number }
  | { name: string; label: string; hint?: string; kind: 'select'; options: readonly Option[]; required?: boolean }
  | { name: string; label: string; hint?: string; kind: 'many'; options: Option[] }
  | { name: string; label: string; hint?: string; kind: 'tags' }
  | { name: string; label: string; hint?: string; kind: 'switch' };
export type Values = Record<string, unknown>;

/** One record in a dialog: the same labels, hints and refusals everywhere. An empty number or text that is not required is sent as null by `toBody`. */
export function SetUpForm({ title, fields, start, act, id, submit, toBody, onClose }: {
  title: string; fields: readonly Field[]; start: Values; act: UseMutationResult<unknown, unknown, { id?: number; body: object }>; id?: number; submit?: string; toBody: (values: Values) => object; onClose: () => void;
}) {
  const { t } = useTranslation('plant');
  const [values, setValues] = useState<Values>(start);
  const set = (name: string, value: unknown) => setValues((old) => ({ ...old, [name]: value }));
  const errorOf = (name: string) => (act.error instanceof ProblemError ? act.error.problem.errors?.find((error) => error.field.split('.')[0] === name)?.expected : undefined);
  const save = (event: FormEvent) => {
    event.preventDefault();
    act.mutate({ id, body: toBody(values) }, { onSuccess: onClose });
  };
  return (
    <Modal opened onClose={onClose} title={title} size="lg" closeButtonProps={{ 'aria-label': t('setUp.cancel') }}>
      <form onSubmit={save}>
        <Stack>
          {fields.map((field) => <FieldInput key={field.name} field={field} value={values[field.name]} error={errorOf(field.name)} onChange={(value) => set(field.name, value)} />)}
          {act.isError ? <ProblemList error={act.error} /> : null}
          <Group><Button type="submit" loading={act.isPending}>{submit ?? t('setUp.save')}</Button><Button variant="default" onClick={onClose}>{t('setUp.cancel')}</Button></Group>
        </Stack>
      </form>
    </Modal>
  );
}

function FieldInput({ field, value, error, onChange }: { field: Field; value: unknown; error: string | undefined; onChange: (value: unknown) => void }) {
  const common = { label: field.label, description: field.hint, error };
  const text = typeof value === 'string' ? value : '';
  const list = Array.isArray(value) ? value.map(String) : [];
  switch (field.kind) {
    case 'number': return <NumberInput {...common} required={field.required} step={field.step} value={typeof value === 'number' ? value : ''} onChange={(next) => onChange(typeof next === 'number' ? next : next === '' ? null : Number(next))} hideControls />;
    case 'select': return <Select {...common} required={field.required} data={field.options} value={text || null} onChange={(next) => onChange(next)} searchable allowDeselect={!field.required} />;
    case 'many': return <MultiSelect {...common} data={field.options} value={list} onChange={onChange} searchable />;
    case 'tags': return <TagsInput {...common} value={list} onChange={onChange} splitChars={[',', ';']} acceptValueOnBlur />;
    case 'switch': return <Switch label={field.label} description={field.hint} checked={value === true} onChange={(event) => onChange(event.currentTarget.checked)} />;
    case 'longText': return <Textarea {...common} required={field.required} autosize minRows={2} value={text} onChange={(event) => onChange(event.currentTarget.value)} />;
    default: return <TextInput {...common} required={field.required} type={field.kind === 'dateTime' ? 'datetime-local' : field.kind} value={text} onChange={(event) => onChange(event.currentTarget.value)} />;
  }
}

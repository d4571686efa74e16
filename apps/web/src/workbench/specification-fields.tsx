import { Group, NativeSelect, Text, TextInput } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Choices } from './choices.js';
import { readSpecification } from './form/specification.js';

const CONFIDENCES = [0.8, 0.9, 0.95, 0.99];

export function SpecificationFields({ choices, onChange }: { choices: Choices; onChange: (change: Partial<Choices>) => void }) {
  const { t } = useTranslation('workbench');
  const read = readSpecification(choices);
  const fault = (field: 'lsl' | 'target' | 'usl') => { const entry = 'faults' in read ? read.faults.find((one) => one.field === field) : undefined; return entry ? t(`form.${entry.code}`) : undefined; };
  return (
    <>
      <Group gap="sm" align="flex-start">
        <TextInput label={t('form.name')} size="md" value={choices.name} onChange={({ currentTarget: { value } }) => onChange({ name: value })} />
        <TextInput label={t('form.unit')} size="md" w={160} value={choices.unit} onChange={({ currentTarget: { value } }) => onChange({ unit: value })} />
        {choices.form === 'counts' || choices.form === 'events' ? null : <NativeSelect label={t('capability.scale')} size="md" value={choices.scale} data={(['open', 'bounded', 'ordinal'] as const).map((value) => ({ value, label: t(`capability.scales.${value}`) }))} onChange={({ currentTarget: { value } }) => onChange({ scale: value as Choices['scale'] })} />}
      </Group>
      <Text size="sm" fw={600}>{t('form.specification')}</Text>
      <Group gap="sm" align="flex-end">
        {(['lsl', 'target', 'usl'] as const).map((field) => <TextInput key={field} label={t(`form.${field}`)} size="md" inputMode="decimal" w={190} value={choices[field]} error={fault(field)} onChange={({ currentTarget: { value } }) => onChange({ [field]: value })} />)}
        <NativeSelect label={t('capability.confidence')} size="md" w={120} value={String(choices.confidence)} data={[...new Set([...CONFIDENCES, choices.confidence])].map((value) => ({ value: String(value), label: t('capability.percent', { value: Math.round(value * 1000) / 10 }) }))} onChange={({ currentTarget: { value } }) => onChange({ confidence: Number(value) })} />
      </Group>
    </>
  );
}

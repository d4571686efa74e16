import { Group, Text, TextInput } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Choices } from './choices.js';
import { readSpecification } from './form/specification.js';

export function SpecificationFields({ choices, onChange }: { choices: Choices; onChange: (change: Partial<Choices>) => void }) {
  const { t } = useTranslation('workbench');
  const read = readSpecification(choices);
  const fault = (field: 'lsl' | 'target' | 'usl') => { const entry = 'faults' in read ? read.faults.find((one) => one.field === field) : undefined; return entry ? t(`form.${entry.code}`) : undefined; };
  return (
    <>
      <Group gap="sm" align="flex-start">
        <TextInput label={t('form.name')} size="md" value={choices.name} onChange={({ currentTarget: { value } }) => onChange({ name: value })} />
        <TextInput label={t('form.unit')} size="md" w={140} value={choices.unit} onChange={({ currentTarget: { value } }) => onChange({ unit: value })} />
      </Group>
      <Text size="sm" fw={600}>{t('form.specification')}</Text>
      <Group gap="sm" align="flex-start">
        {(['lsl', 'target', 'usl'] as const).map((field) => <TextInput key={field} label={t(`form.${field}`)} size="md" inputMode="decimal" w={190} value={choices[field]} error={fault(field)} onChange={({ currentTarget: { value } }) => onChange({ [field]: value })} />)}
      </Group>
    </>
  );
}

import { Checkbox, Group, List, MultiSelect, NativeSelect, Text, TextInput } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { type Choices, FORMS, type Form } from './choices.js';
import type { FormAnswer, FormFault } from './form/form-data.js';
import type { DataTable } from './read/read-table.js';
import { Section } from './section.js';
import { SpecificationFields } from './specification-fields.js';

type Props = { table: DataTable; formed: FormAnswer; choices: Choices; onChange: (change: Partial<Choices>) => void };

/** How the table becomes readings, subgroups, counts or gaps; what is wrong is said by row and column. */
export function FormChoice({ table, formed, choices, onChange }: Props) {
  const { t } = useTranslation('workbench');
  const { form } = choices;
  const options = table.columns.map(({ name }, place) => ({ value: String(place), label: name }));
  const select = (label: string, value: number | null, change: (place: number | null) => void, none?: string) => (
    <NativeSelect label={label} size="md" value={value === null || value >= options.length ? '' : String(value)} data={none === undefined ? options : [{ value: '', label: none }, ...options]}
      onChange={({ currentTarget }) => change(currentTarget.value === '' ? null : Number(currentTarget.value))} />
  );
  const places = (values: readonly string[]) => values.map(Number);
  const columnLabel = form === 'counts' ? t('form.countColumn') : form === 'events' ? t('form.gapColumn') : t('form.column');
  return (
    <Section title={t('form.title')}>
      <NativeSelect label={t('form.how')} size="md" value={form} data={FORMS.map((value) => ({ value, label: t(`form.forms.${value}`) }))} onChange={({ currentTarget: { value } }) => onChange({ form: value as Form, kind: null })} />
      <Group gap="sm" align="flex-end">
        {form === 'rows'
          ? <MultiSelect label={t('form.columns')} size="md" data={options} value={choices.columns.map(String)} onChange={(values) => onChange({ columns: places(values).sort((a, b) => a - b) })} />
          : select(columnLabel, choices.column, (column) => onChange({ column: column ?? 0 }))}
        {form === 'column' ? <TextInput label={t('form.size')} description={t('form.sizeHint')} size="md" inputMode="numeric" value={choices.size} onChange={({ currentTarget: { value } }) => onChange({ size: value })} /> : null}
        {form === 'named' ? select(t('form.naming'), choices.naming, (naming) => onChange({ naming }), '–') : select(t('form.pointNaming'), choices.naming, (naming) => onChange({ naming }), t('form.nobody'))}
        {form === 'counts' ? (
          <>
            <NativeSelect label={t('form.counted')} size="md" value={choices.counted} data={(['units', 'defects'] as const).map((value) => ({ value, label: t(`form.counts.${value}`) }))} onChange={({ currentTarget: { value } }) => onChange({ counted: value === 'defects' ? 'defects' : 'units', kind: null })} />
            <NativeSelect label={t('form.sizes')} size="md" value={choices.sizes} data={(['none', 'same', 'column'] as const).map((value) => ({ value, label: t(`form.sizeKinds.${value}`) }))} onChange={({ currentTarget: { value } }) => onChange({ sizes: value as Choices['sizes'], kind: null })} />
            {choices.sizes === 'same' ? <TextInput label={t('form.sampleSize')} size="md" inputMode="decimal" value={choices.sampleSize} onChange={({ currentTarget: { value } }) => onChange({ sampleSize: value })} /> : null}
            {choices.sizes === 'column' ? select(t('form.sizesColumn'), choices.sizesColumn, (sizesColumn) => onChange({ sizesColumn }), '–') : null}
          </>
        ) : null}
        {form === 'events' ? <NativeSelect label={t('form.event')} size="md" value={choices.event} data={(['gaps', 'times'] as const).map((value) => ({ value, label: t(`form.events.${value}`) }))} onChange={({ currentTarget: { value } }) => onChange({ event: value === 'times' ? 'times' : 'gaps', kind: null })} /> : null}
        {form === 'counts' || form === 'events' || options.length < 3 ? null : <>{select(t('form.product'), choices.product, (product) => onChange({ product }), t('form.oneProduct'))}{choices.product === null ? null : select(t('form.nominal'), choices.nominal, (nominal) => onChange({ nominal }), '–')}</>}
      </Group>
      {(form === 'column' || form === 'named') && options.length >= 3 ? <MultiSelect searchable label={t('form.levels')} description={t('form.levelsHint')} size="md" data={options.filter(({ value }) => Number(value) !== choices.column)} value={choices.levels.map(String)} onChange={(values) => onChange({ levels: places(values) })} maxValues={6} /> : null}
      {form === 'counts' || form === 'events' ? null : <NativeSelect label={t('form.members')} size="md" value={choices.members} data={(['pieces', 'positions'] as const).map((value) => ({ value, label: t(`form.memberKinds.${value}`) }))} onChange={({ currentTarget: { value } }) => onChange({ members: value === 'positions' ? 'positions' : 'pieces' })} />}
      {choices.textsAsMissing || ('faults' in formed && formed.faults.some(({ code }) => code === 'text-cell')) ? <Checkbox size="md" label={t('form.textsAsMissing')} checked={choices.textsAsMissing} onChange={({ currentTarget: { checked } }) => onChange({ textsAsMissing: checked })} /> : null}
      <Formed formed={formed} />
      <SpecificationFields choices={choices} onChange={onChange} />
    </Section>
  );
}

function Formed({ formed }: { formed: FormAnswer }) {
  const { t } = useTranslation('workbench');
  if ('faults' in formed) return <div role="alert"><List c="var(--mantine-color-error)">{formed.faults.map((fault) => <List.Item key={`${fault.code}${'column' in fault ? fault.column : ''}`}><Fault fault={fault} /></List.Item>)}</List></div>;
  const { data } = formed;
  const points = data.type === 'subgroups' ? data.subgroups.length : data.type === 'counts' ? data.counts.length : data.type === 'events' ? data.gaps.length : data.values.length;
  return (
    <div role="status">
      <Text>{t('form.summary', { readings: data.readings.toLocaleString('en-GB'), missing: data.missing, points: points.toLocaleString('en-GB') })}</Text>
      {data.type === 'subgroups' && data.incomplete ? <Text size="sm">{t('form.incomplete')}</Text> : null}
      {data.type === 'subgroups' && data.scattered > 0 ? <Text size="sm">{t('form.scattered', { count: data.scattered })}</Text> : null}
    </div>
  );
}

function Fault({ fault }: { fault: FormFault }) {
  const { t } = useTranslation('workbench');
  if (!('row' in fault)) return <>{t(`form.faults.${fault.code}`)}</>;
  return <>{t(`form.faults.${fault.code}`, { row: fault.row, column: fault.column, text: fault.text, more: fault.more > 0 ? t('form.faults.more', { count: fault.more }) : '' })}</>;
}

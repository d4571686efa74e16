import { Group, NativeSelect, Stack, Table, Text, Title } from '@mantine/core';
import type { TFunction } from 'i18next';
import { useId, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { useFormat } from './format.js';
import type { portable } from './messages/en/portable.js';

type FieldName = keyof typeof portable.compare.fields;
type Value = string | number | boolean | null | readonly string[];
/** One version of anything: who wrote it, when and why, and its fields in the order in which they are read. */
export type Version = { key: string; label: string; author: string; at: string; reason: string; fields: Partial<Record<FieldName, Value>> };

/** Two versions side by side, the newest two at first; each changed field says so in words. `versions` are newest first. */
export function CompareVersions({ title, versions }: { title: string; versions: readonly Version[] }) {
  const { t } = useTranslation('portable');
  const id = useId();
  const [chosen, setChosen] = useState<{ left?: string; right?: string }>({});
  const find = (key: string | undefined, place: number) => versions.find((version) => version.key === key) ?? versions[place];
  const [left, right] = [find(chosen.left, 1), find(chosen.right, 0)];
  const options = versions.map(({ key, label }) => ({ value: key, label }));
  return (
    <Stack component="section" gap="xs" aria-labelledby={id}>
      <Title order={3} size="h5" id={id}>{title}</Title>
      {!left || !right ? <Text c="dimmed">{t('compare.missing')}</Text> : (
        <>
          <Group>
            <NativeSelect size="md" label={t('compare.left')} value={left.key} data={options} onChange={({ currentTarget: { value } }) => setChosen({ ...chosen, left: value })} />
            <NativeSelect size="md" label={t('compare.right')} value={right.key} data={options} onChange={({ currentTarget: { value } }) => setChosen({ ...chosen, right: value })} />
          </Group>
          <SideBySide id={id} left={left} right={right} />
        </>
      )}
    </Stack>
  );
}

function SideBySide({ id, left, right }: { id: string; left: Version; right: Version }) {
  const { t } = useTranslation('portable');
  const format = useFormat();
  const fields = (Object.keys({ ...left.fields, ...right.fields }) as FieldName[]).map((field) => ({ name: t(`compare.fields.${field}`), before: said(t, left.fields[field]), after: said(t, right.fields[field]) }));
  const about = (['author', 'at', 'reason'] as const).map((field) => ({ name: t(`compare.${field}`), before: field === 'at' ? format.dateTime(left.at) : left[field] || t('compare.none'), after: field === 'at' ? format.dateTime(right.at) : right[field] || t('compare.none') }));
  return (
    <Table.ScrollContainer minWidth={560}>
      <Table aria-labelledby={id} verticalSpacing="xs">
        <Table.Thead><Table.Tr><Table.Th scope="col">{t('compare.field')}</Table.Th><Table.Th scope="col">{left.label}</Table.Th><Table.Th scope="col">{right.label}</Table.Th><Table.Th scope="col">{t('compare.changed')}</Table.Th></Table.Tr></Table.Thead>
        <Table.Tbody>
          {fields.map(({ name, before, after }) => <Table.Tr key={name}><Table.Th scope="row">{name}</Table.Th><Table.Td>{before}</Table.Td><Table.Td>{after}</Table.Td><Table.Td>{before === after ? <Text size="sm" c="dimmed">{t('compare.same')}</Text> : <Text fw={600}>{t('compare.changed')}</Text>}</Table.Td></Table.Tr>)}
          {about.map(({ name, before, after }) => <Table.Tr key={name}><Table.Th scope="row">{name}</Table.Th><Table.Td>{before}</Table.Td><Table.Td>{after}</Table.Td><Table.Td /></Table.Tr>)}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}

function said(t: TFunction<'portable'>, value: Value | undefined): string {
  if (typeof value === 'boolean') return value ? t('compare.yes') : t('compare.no');
  if (value === undefined || value === null || value === '') return t('compare.none');
  return typeof value === 'object' ? value.join('; ') || t('compare.none') : String(value);
}

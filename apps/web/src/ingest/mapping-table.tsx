import { Group, NativeSelect, Select, Table, Text, TextInput } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { columnFields, type Mapping } from '#contract/ingest';

type Column = Mapping['columns'][number];
type Choice = { value: string; label: string };

/** For each column of the file: its name, first values, and what it holds. What belongs to a reading wraps, so that a tablet shows all of it. */
export function MappingTable({ columns, sample, characteristics, units, onChange }: { columns: readonly Column[]; sample: readonly (readonly string[])[]; characteristics: Choice[]; units: ReadonlyMap<string, string>; onChange: (index: number, change: Partial<Column>) => void }) {
  const { t } = useTranslation('ingest');
  return (
    <Table verticalSpacing="xs">
      <Table.Thead><Table.Tr><Table.Th>{t('mapping.column')}</Table.Th><Table.Th>{t('mapping.holds')}</Table.Th><Table.Th>{t('mapping.details')}</Table.Th></Table.Tr></Table.Thead>
      <Table.Tbody>{columns.map((column, index) => (
        <Table.Tr key={column.column}>
          <Table.Td style={{ overflowWrap: 'anywhere' }}><Text fw={600}>{column.column}</Text><Text size="sm" c="dimmed">{sample.slice(0, 2).map((row) => row[index] ?? '').join(' · ')}</Text></Table.Td>
          <Table.Td><NativeSelect miw={170} aria-label={t('mapping.holdsOf', { column: column.column })} value={column.field} onChange={(event) => onChange(index, { field: columnFields.find((field) => field === event.currentTarget.value) ?? 'ignore' })} data={columnFields.map((value) => ({ value, label: t(`fields.${value}`) }))} /></Table.Td>
          <Table.Td><Group gap="xs">
            {column.field === 'reading' ? <Select w={215} label={t('mapping.characteristic')} aria-label={t('mapping.characteristicOf', { column: column.column })} data={characteristics} searchable value={column.characteristic ?? null} onChange={(value) => onChange(index, { characteristic: value ?? undefined })} /> : null}
            {column.field === 'reading' ? <TextInput w={95} label={t('mapping.position')} aria-label={t('mapping.positionOf', { column: column.column })} maxLength={40} value={column.position ?? ''} onChange={(event) => onChange(index, { position: event.currentTarget.value })} /> : null}
            {column.field === 'reading' || column.field === 'value' ? <TextInput w={75} label={t('mapping.measuredInShort')} aria-label={t('mapping.measuredInOf', { column: column.column })} maxLength={20} placeholder={units.get(column.characteristic ?? '')} value={column.measuredIn ?? ''} onChange={(event) => onChange(index, { measuredIn: event.currentTarget.value || undefined })} /> : null}
          </Group></Table.Td>
        </Table.Tr>
      ))}</Table.Tbody>
    </Table>
  );
}

import { NativeSelect, Select, Table, TextInput } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { columnFields, type Mapping } from '#contract/ingest';

type Column = Mapping['columns'][number];
type Choice = { value: string; label: string };

/** For each column of the file: its name, first values, and what it holds. */
export function MappingTable({ columns, sample, characteristics, units, onChange }: { columns: readonly Column[]; sample: readonly (readonly string[])[]; characteristics: Choice[]; units: ReadonlyMap<string, string>; onChange: (index: number, change: Partial<Column>) => void }) {
  const { t } = useTranslation('ingest');
  return (
    <Table.ScrollContainer minWidth={1180}><Table verticalSpacing="xs">
      <Table.Thead><Table.Tr>{(['column', 'example', 'holds', 'characteristic', 'position', 'measuredIn'] as const).map((column) => <Table.Th key={column}>{t(`mapping.${column}`)}</Table.Th>)}</Table.Tr></Table.Thead>
      <Table.Tbody>{columns.map((column, index) => (
        <Table.Tr key={column.column}>
          <Table.Td fw={600}>{column.column}</Table.Td>
          <Table.Td>{sample.slice(0, 2).map((row) => row[index] ?? '').join(' · ')}</Table.Td>
          <Table.Td><NativeSelect miw={220} aria-label={t('mapping.holdsOf', { column: column.column })} value={column.field} onChange={(event) => onChange(index, { field: columnFields.find((field) => field === event.currentTarget.value) ?? 'ignore' })} data={columnFields.map((value) => ({ value, label: t(`fields.${value}`) }))} /></Table.Td>
          <Table.Td>{column.field === 'reading' ? <Select aria-label={t('mapping.characteristicOf', { column: column.column })} data={characteristics} searchable value={column.characteristic ?? null} onChange={(value) => onChange(index, { characteristic: value ?? undefined })} /> : null}</Table.Td>
          <Table.Td>{column.field === 'reading' ? <TextInput aria-label={t('mapping.positionOf', { column: column.column })} maxLength={40} value={column.position ?? ''} onChange={(event) => onChange(index, { position: event.currentTarget.value })} /> : null}</Table.Td>
          <Table.Td>{column.field === 'reading' || column.field === 'value' ? <TextInput aria-label={t('mapping.measuredInOf', { column: column.column })} maxLength={20} w={90} placeholder={units.get(column.characteristic ?? '')} value={column.measuredIn ?? ''} onChange={(event) => onChange(index, { measuredIn: event.currentTarget.value || undefined })} /> : null}</Table.Td>
        </Table.Tr>
      ))}</Table.Tbody>
    </Table></Table.ScrollContainer>
  );
}

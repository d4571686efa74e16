import { Button, Checkbox, Group, NativeSelect, Select, Stack, Table, Text, TextInput, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { columnFields, type Layout, type Mapping } from '#contract/ingest';
import type { AnswerOf } from '#contract/endpoint';
import type { uploadImport } from '#contract/ingest';
import { ProblemList } from '../shared/problem-list.js';
import { useImportActs, useLook, useNames, usePreview } from './ingest.queries.js';
import { PreviewTable } from './preview-table.js';

type Look = AnswerOf<typeof uploadImport>;
const ZONES = Intl.supportedValuesOf('timeZone');

/** Layout, mapping and preview of one file; a change of either asks for a new preview. */
export function MapFile({ look: first, onStarted }: { look: Look; onStarted: (id: number) => void }) {
  const { t } = useTranslation('ingest');
  const [look, setLook] = useState(first);
  const [layout, setLayout] = useState<Layout>(first.layout);
  const [mapping, setMapping] = useState<Mapping>(first.mapping);
  const [reread, preview, { start }] = [useLook(), usePreview(), useImportActs()];
  const names = useNames();
  const id = first.import.id;
  const changeLayout = (change: Partial<Layout>) => { setLayout((old) => ({ ...old, ...change })); preview.reset(); };
  const changeMapping = (change: Partial<Mapping>) => { setMapping((old) => ({ ...old, ...change })); preview.reset(); };
  const changeColumn = (index: number, change: Partial<Mapping['columns'][number]>) => changeMapping({ columns: mapping.columns.map((column, place) => (place === index ? { ...column, ...change } : column)) });
  const characteristics = (names.data?.characteristics ?? []).filter((entry) => entry.formula === null).map((entry) => ({ value: entry.code, label: `${entry.name} (${entry.unit})` }));
  const machines = (names.data?.lines ?? []).flatMap((line) => line.steps.flatMap((step) => step.machines)).map((machine) => ({ value: machine.code, label: `${machine.code} ${machine.name}` }));
  const products = (names.data?.products ?? []).map((product) => ({ value: product.code, label: `${product.code} ${product.name}` }));
  return (
    <Stack>
      <Title order={2} size="h4">{t('layout.title')}</Title>
      <Group align="flex-end">
        <NativeSelect label={t('layout.encoding')} value={layout.encoding} onChange={(event) => changeLayout({ encoding: event.currentTarget.value === 'utf-8' ? 'utf-8' : 'windows-1252' })} data={(['utf-8', 'windows-1252'] as const).map((value) => ({ value, label: t(`encodings.${value}`) }))} />
        <NativeSelect label={t('layout.separator')} value={layout.separator} onChange={(event) => changeLayout({ separator: ([',', ';', '\t'] as const).find((mark) => mark === event.currentTarget.value) ?? ',' })} data={[{ value: ',', label: t('separators.comma') }, { value: ';', label: t('separators.semicolon') }, { value: '\t', label: t('separators.tab') }]} />
        <NativeSelect label={t('layout.decimal')} value={layout.decimal} onChange={(event) => changeLayout({ decimal: event.currentTarget.value === ',' ? ',' : '.' })} data={[{ value: '.', label: t('decimals.point') }, { value: ',', label: t('decimals.comma') }]} />
        <NativeSelect label={t('layout.dateOrder')} value={layout.dateOrder} onChange={(event) => changeLayout({ dateOrder: (['day-month-year', 'month-day-year'] as const).find((order) => order === event.currentTarget.value) ?? 'year-month-day' })} data={(['year-month-day', 'day-month-year', 'month-day-year'] as const).map((value) => ({ value, label: t(`dateOrders.${value}`) }))} />
        <Select label={t('layout.timeZone')} data={ZONES} searchable value={layout.timeZone} onChange={(value) => { if (value) changeLayout({ timeZone: value }); }} allowDeselect={false} />
        <Button variant="default" loading={reread.isPending} onClick={() => reread.mutate({ id, layout }, { onSuccess: (next) => { setLook(next); setMapping(next.mapping); preview.reset(); } })}>{t('layout.reread')}</Button>
      </Group>
      {reread.isError ? <ProblemList error={reread.error} /> : null}
      <Title order={2} size="h4">{t('mapping.title')}</Title>
      <Text c="dimmed">{look.remembered ? t('mapping.remembered') : t('mapping.suggested')}</Text>
      <Table.ScrollContainer minWidth={800}><Table verticalSpacing="xs">
        <Table.Thead><Table.Tr>{(['column', 'example', 'holds', 'characteristic', 'position'] as const).map((column) => <Table.Th key={column}>{t(`mapping.${column}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>{mapping.columns.map((column, index) => (
          <Table.Tr key={column.column}>
            <Table.Td fw={600}>{column.column}</Table.Td>
            <Table.Td>{look.sample.slice(0, 3).map((row) => row[index] ?? '').join(' · ')}</Table.Td>
            <Table.Td><NativeSelect aria-label={t('mapping.holdsOf', { column: column.column })} value={column.field} onChange={(event) => changeColumn(index, { field: columnFields.find((field) => field === event.currentTarget.value) ?? 'ignore' })} data={columnFields.map((value) => ({ value, label: t(`fields.${value}`) }))} /></Table.Td>
            <Table.Td>{column.field === 'reading' ? <Select aria-label={t('mapping.characteristicOf', { column: column.column })} data={characteristics} value={column.characteristic ?? null} onChange={(value) => changeColumn(index, { characteristic: value ?? undefined })} /> : null}</Table.Td>
            <Table.Td>{column.field === 'reading' ? <TextInput aria-label={t('mapping.positionOf', { column: column.column })} value={column.position ?? ''} onChange={(event) => changeColumn(index, { position: event.currentTarget.value })} /> : null}</Table.Td>
          </Table.Tr>
        ))}</Table.Tbody>
      </Table></Table.ScrollContainer>
      <Group align="flex-end">
        {mapping.columns.some((column) => column.field === 'machine') ? null : <Select label={t('mapping.machine')} data={machines} value={mapping.machine ?? null} onChange={(value) => changeMapping({ machine: value ?? undefined })} searchable />}
        {mapping.columns.some((column) => column.field === 'product') ? null : <Select label={t('mapping.product')} data={products} value={mapping.product ?? null} onChange={(value) => changeMapping({ product: value ?? undefined })} searchable />}
      </Group>
      <Checkbox label={t('mapping.asMeasured')} checked={mapping.asMeasured} onChange={(event) => changeMapping({ asMeasured: event.currentTarget.checked })} />
      <Group><Button size="md" variant={preview.data ? 'default' : 'filled'} loading={preview.isPending} onClick={() => preview.mutate({ id, layout, mapping })}>{t('preview.go')}</Button></Group>
      {preview.isError ? <ProblemList error={preview.error} /> : null}
      {preview.data ? (
        <>
          <PreviewTable preview={preview.data} header={look.header} />
          {start.isError ? <ProblemList error={start.error} /> : null}
          <Group><Button size="md" disabled={preview.data.toStore === 0} loading={start.isPending} onClick={() => start.mutate({ id, layout, mapping }, { onSuccess: () => onStarted(id) })}>{t('start')}</Button></Group>
        </>
      ) : null}
    </Stack>
  );
}

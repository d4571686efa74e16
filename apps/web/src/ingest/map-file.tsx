import { Button, Checkbox, Group, Select, Stack, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { AnswerOf } from '#contract/endpoint';
import type { Layout, Mapping, uploadImport } from '#contract/ingest';
import { usePlant } from '../shared/plant.queries.js';
import { ProblemList } from '../shared/problem-list.js';
import { ConversionFields } from './conversion-fields.js';
import { conversionsOf, draftsOf } from './conversions.js';
import { useImportActs, useLook, usePreview } from './ingest.queries.js';
import { LayoutFields } from './layout-fields.js';
import { MappingTable } from './mapping-table.js';
import { PreviewTable } from './preview-table.js';

type Look = AnswerOf<typeof uploadImport>;

/** Layout, mapping and preview of one file; a change of either asks for a new preview. */
export function MapFile({ look: first, onStarted }: { look: Look; onStarted: (id: number) => void }) {
  const { t } = useTranslation('ingest');
  const [look, setLook] = useState(first);
  const [layout, setLayout] = useState<Layout>(first.layout);
  const [mapping, setMapping] = useState<Mapping>(first.mapping);
  const [drafts, setDrafts] = useState(draftsOf(first.mapping.conversions));
  const [reread, preview, { start }] = [useLook(), usePreview(), useImportActs()];
  const names = usePlant();
  const id = first.import.id;
  const changeLayout = (change: Partial<Layout>) => { setLayout((old) => ({ ...old, ...change })); preview.reset(); };
  const changeMapping = (change: Partial<Mapping>) => { setMapping((old) => ({ ...old, ...change })); preview.reset(); };
  const changeColumn = (index: number, change: Partial<Mapping['columns'][number]>) => changeMapping({ columns: mapping.columns.map((column, place) => (place === index ? { ...column, ...change } : column)) });
  const readAgain = () => reread.mutate({ id, layout }, { onSuccess: (next) => { setLook(next); setMapping(next.mapping); setDrafts(draftsOf(next.mapping.conversions)); preview.reset(); } });
  const characteristics = (names.data?.characteristics ?? []).filter((entry) => entry.formula === null).map((entry) => ({ value: entry.code, label: `${entry.name} (${entry.unit})` }));
  const units = new Map((names.data?.characteristics ?? []).map((entry) => [entry.code, entry.unit]));
  const machines = (names.data?.lines ?? []).flatMap((line) => line.steps.flatMap((step) => step.machines)).map((machine) => ({ value: machine.code, label: `${machine.code} ${machine.name}` }));
  const products = (names.data?.products ?? []).map((product) => ({ value: product.code, label: `${product.code} ${product.name}` }));
  const has = (field: Mapping['columns'][number]['field']) => mapping.columns.some((column) => column.field === field);
  return (
    <Stack>
      <Title order={2} size="h4">{t('layout.title')}</Title>
      <LayoutFields layout={layout} undecided={first.undecided.includes('dateOrder')} onChange={changeLayout}>
        <Button variant="default" loading={reread.isPending} onClick={readAgain}>{t('layout.reread')}</Button>
      </LayoutFields>
      {reread.isError ? <ProblemList error={reread.error} /> : null}
      <Title order={2} size="h4">{t('mapping.title')}</Title>
      <Text c="dimmed">{look.remembered ? t('mapping.remembered') : t('mapping.suggested')}</Text>
      <MappingTable columns={mapping.columns} sample={look.sample} characteristics={characteristics} units={units} onChange={changeColumn} />
      {names.isError ? <ProblemList error={names.error} /> : null}
      <Group align="flex-end">
        {has('machine') ? null : <Select label={t('mapping.machine')} data={machines} value={mapping.machine ?? null} onChange={(value) => changeMapping({ machine: value ?? undefined })} searchable clearable />}
        {has('product') ? null : <Select label={t('mapping.product')} data={products} value={mapping.product ?? null} onChange={(value) => changeMapping({ product: value ?? undefined })} searchable clearable />}
        {has('characteristic') || !has('value') ? null : <Select label={t('mapping.oneCharacteristic')} data={characteristics} value={mapping.characteristic ?? null} onChange={(value) => changeMapping({ characteristic: value ?? undefined })} searchable clearable />}
      </Group>
      <ConversionFields drafts={drafts} onChange={(next) => { setDrafts(next); changeMapping({ conversions: conversionsOf(next) }); }} />
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

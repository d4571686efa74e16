import { Button, Group, Stack, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { useSearchParams } from 'react-router';
import { correctors } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { Page, QueryView } from '../shared/states.js';
import { ChooseFile } from './choose-file.js';
import { ImportProgress } from './import-progress.js';
import { MapFile } from './map-file.js';
import { useImports, useUpload } from './ingest.queries.js';
import { storedBefore } from './stored-before.js';

/** Bring a file, look at what would happen, store it; earlier imports below. The address names the import that is open. */
export function ImportPage() {
  const { t } = useTranslation('ingest');
  const may = useMay(correctors);
  const upload = useUpload();
  const [params, setParams] = useSearchParams();
  const open = Number(params.get('import')) || undefined;
  const again = () => { upload.reset(); setParams({}); };
  return (
    <Page title={t('title')} actions={upload.data || open ? <Button variant="default" onClick={again}>{t('another')}</Button> : undefined}>
      {open ? <ImportProgress id={open} mayChange={may} /> : !may ? <Text>{t('readOnly')}</Text> : upload.data ? <MapFile key={upload.data.import.id} look={upload.data} onStarted={(id) => setParams({ import: String(id) })} /> : (
        <Stack gap="sm" maw={640}>
          <Text>{t('text')}</Text>
          <ChooseFile busy={upload.isPending} onChoose={(file) => upload.mutate(file)} />
          {upload.isPending ? <Text role="status">{t('uploading')}</Text> : null}
          {upload.isError ? <ProblemList error={upload.error} /> : null}
        </Stack>
      )}
      <ImportList onOpen={(id) => { upload.reset(); setParams({ import: String(id) }); }} />
    </Page>
  );
}

function ImportList({ onOpen }: { onOpen: (id: number) => void }) {
  const { t } = useTranslation('ingest');
  const format = useFormat();
  const imports = useImports();
  return (
    <Stack gap="xs">
      <Title order={2} size="h4">{t('list.title')}</Title>
      <QueryView query={imports} what={t('list.title')} isEmpty={(list) => list.length === 0} empty={<Text c="dimmed">{t('list.empty')}</Text>}>{(list) => (
        <Table.ScrollContainer minWidth={700}><Table verticalSpacing="xs">
          <Table.Thead><Table.Tr>{(['file', 'when', 'who', 'state', 'readings', 'refused', 'open'] as const).map((column) => <Table.Th key={column}>{t(`list.${column}`)}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>{list.map((row) => (
            <Table.Tr key={row.id}>
              <Table.Td>{row.fileName}</Table.Td><Table.Td>{format.dateTime(row.startedAt)}</Table.Td><Table.Td>{row.startedBy}</Table.Td><Table.Td>{t(`states.${row.state}`)}</Table.Td><Table.Td>{row.stored}{storedBefore(row) > 0 ? <Text size="sm" c="dimmed">{t('progress.already', { count: storedBefore(row) })}</Text> : null}</Table.Td><Table.Td>{row.refused}</Table.Td>
              <Table.Td><Group><Button size="xs" variant="default" aria-label={t('list.openOf', { file: row.fileName })} onClick={() => onOpen(row.id)}>{t('list.open')}</Button></Group></Table.Td>
            </Table.Tr>
          ))}</Table.Tbody>
        </Table></Table.ScrollContainer>
      )}</QueryView>
    </Stack>
  );
}

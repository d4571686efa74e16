import { Button, FileInput, Group, Stack, Text, TextInput, Title } from '@mantine/core';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { getPlantSetUp, getPlantSetUpSchema, importPlantSetUp, previewPlantSetUp, type SetUpReport } from '#contract/plant-set-up';
import { exportEverything } from '#contract/portable';
import { administrators } from '#contract/roles';
import { address, send } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { SetUpChanges } from './set-up-changes.js';

/** What leaves the installation as a file, and what comes in by one. */
export function PortableSection({ mayChange }: { mayChange: boolean }) {
  const { t } = useTranslation('portable');
  const mayManage = useMay(administrators);
  return (
    <Stack gap="xl">
      <Stack component="section" gap="sm" align="flex-start" aria-labelledby="everything-title">
        <Title order={2} size="h4" id="everything-title">{t('everything.title')}</Title>
        <Text maw={820}>{t('everything.text')}</Text>
        <Text maw={820} c="dimmed">{t('everything.care')}</Text>
        {mayManage ? <Button component="a" size="md" variant="default" href={address(exportEverything)} download>{t('everything.do')}</Button> : <Text c="dimmed">{t('everything.who')}</Text>}
      </Stack>
      <Stack component="section" gap="sm" align="flex-start" aria-labelledby="set-up-file-title">
        <Title order={2} size="h4" id="set-up-file-title">{t('setUp.title')}</Title>
        <Text maw={820}>{t('setUp.text')}</Text>
        <Group>
          <Button component="a" size="md" variant="default" href={address(getPlantSetUp)} download="plant-set-up.json">{t('setUp.download')}</Button>
          <Button component="a" size="md" variant="subtle" href={address(getPlantSetUpSchema)} download="plant-set-up.schema.json">{t('setUp.schema')}</Button>
        </Group>
        {mayChange ? <ImportSetUp /> : <Text c="dimmed">{t('setUp.who')}</Text>}
      </Stack>
    </Stack>
  );
}

/** The file is shown first as what it would do; only then it can be imported. */
function ImportSetUp() {
  const { t } = useTranslation('portable');
  const client = useQueryClient();
  const [file, setFile] = useState<File | null>(null);
  const [reason, setReason] = useState('');
  const [fault, setFault] = useState('');
  const act = (endpoint: typeof previewPlantSetUp | typeof importPlantSetUp) => async (): Promise<SetUpReport> => {
    const text = (await file?.text()) ?? '';
    try { JSON.parse(text); } catch (error) { setFault(error instanceof Error ? error.message : ''); throw error; }
    return endpoint.answer.parse(await send(endpoint, address(endpoint), { body: `{"reason":${JSON.stringify(reason)},"setUp":${text}}`, headers: { 'content-type': 'application/json' } }));
  };
  const look = useMutation({ mutationFn: act(previewPlantSetUp) });
  const bring = useMutation({ mutationFn: act(importPlantSetUp), onSuccess: () => client.invalidateQueries() });
  const forget = () => { look.reset(); bring.reset(); setFault(''); };
  return (
    <Stack gap="sm" w="100%">
      <Text maw={820}>{t('setUp.how')}</Text>
      <form onSubmit={(event) => { event.preventDefault(); forget(); look.mutate(); }}>
        <Stack gap="sm" maw={520}>
          <FileInput size="md" required label={t('setUp.choose')} placeholder={t('setUp.chooseNow')} accept="application/json,.json" value={file} onChange={(next) => { setFile(next); forget(); }} />
          <TextInput size="md" required minLength={3} label={t('setUp.reason')} value={reason} onChange={({ currentTarget }) => { setReason(currentTarget.value); forget(); }} />
          <Group><Button size="md" variant="default" type="submit" disabled={!file} loading={look.isPending}>{t('setUp.look')}</Button></Group>
        </Stack>
      </form>
      {fault === '' ? <ProblemList error={bring.error ?? look.error} /> : <Text role="alert">{t('setUp.notJson', { what: fault })}</Text>}
      {look.data && !bring.data ? <SetUpChanges report={look.data} heading={t('setUp.would', { count: look.data.changes.length })} /> : null}
      {look.data && !bring.data && look.data.changes.length > 0 ? <Group><Button size="md" loading={bring.isPending} onClick={() => bring.mutate()}>{t('setUp.do')}</Button></Group> : null}
      {bring.data ? <SetUpChanges report={bring.data} heading={t('setUp.done', { count: bring.data.changes.length })} /> : null}
    </Stack>
  );
}

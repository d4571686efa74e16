import { Button, Group, Modal, Progress, Stack, Text, Textarea, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { getRefusedRows, type ImportView } from '#contract/ingest';
import { address } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { QueryView } from '../shared/states.js';
import { useImport, useImportActs } from './ingest.queries.js';
import { storedBefore } from './stored-before.js';

/** One import from start to undo. */
export function ImportProgress({ id, mayChange }: { id: number; mayChange: boolean }) {
  const { t } = useTranslation('ingest');
  const found = useImport(id);
  const { stop, go } = useImportActs();
  const [undoing, setUndoing] = useState(false);
  return (
    <QueryView query={found} what={t('title')}>{(view) => (
      <Stack gap="sm" maw={800}>
        <Title order={2} size="h4">{t('progress.title', { file: view.fileName })}</Title>
        <Progress.Root size="xl"><Progress.Section value={view.state === 'done' ? 100 : view.rows === 0 ? 0 : (100 * view.done) / view.rows} aria-label={t('progress.bar')} /></Progress.Root>
        <Text role="status">{view.state === 'running' && view.rows === 0 ? t('progress.reading') : [t(`states.${view.state}`), t('progress.done', view), t('progress.stored', view), ...(storedBefore(view) > 0 ? [t('progress.already', { count: storedBefore(view) })] : []), t('progress.refused', view)].join(' · ')}</Text>
        {view.stoppedBy ? <Text>{t('progress.stoppedBy', { name: view.stoppedBy })}</Text> : null}
        {view.problem ? <Text role="alert" className="state-signal">{view.problem}</Text> : null}
        <Group>
          {mayChange && view.state === 'running' ? <Button variant="default" onClick={() => stop.mutate(view.id)}>{t('stop')}</Button> : null}
          {mayChange && view.state === 'stopped' ? <Button onClick={() => go.mutate(view.id)}>{t('continue')}</Button> : null}
          {view.hasRefusedRows ? <Button variant="default" component="a" href={address(getRefusedRows, { params: { id: view.id } })} download>{t('refusedFile')}</Button> : null}
          {mayChange && (view.state === 'done' || view.state === 'stopped') ? <Button variant="default" onClick={() => setUndoing(true)}>{t('undo.open')}</Button> : null}
        </Group>
        {stop.isError ? <ProblemList error={stop.error} /> : null}
        {go.isError ? <ProblemList error={go.error} /> : null}
        {undoing ? <UndoDialog view={view} onClose={() => setUndoing(false)} /> : null}
      </Stack>
    )}</QueryView>
  );
}

function UndoDialog({ view, onClose }: { view: ImportView; onClose: () => void }) {
  const { t } = useTranslation('ingest');
  const { undo } = useImportActs();
  const [reason, setReason] = useState('');
  return (
    <Modal opened onClose={onClose} title={t('undo.title', { file: view.fileName })} closeButtonProps={{ 'aria-label': t('undo.cancel') }}>
      <form onSubmit={(event) => { event.preventDefault(); undo.mutate({ id: view.id, reason }, { onSuccess: onClose }); }}>
        <Stack>
          <Text>{t('undo.text', view)}</Text>
          <Textarea label={t('undo.reason')} required minLength={3} autosize minRows={2} value={reason} onChange={(event) => setReason(event.currentTarget.value)} />
          {undo.isError ? <ProblemList error={undo.error} /> : null}
          <Group><Button type="submit" loading={undo.isPending}>{t('undo.go')}</Button><Button variant="default" onClick={onClose}>{t('undo.cancel')}</Button></Group>
        </Stack>
      </form>
    </Modal>
  );
}

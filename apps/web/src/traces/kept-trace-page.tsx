import { Alert, Button, Stack, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link, useParams } from 'react-router';
import type { KeptTrace } from '#contract/traces';
import { useFormat } from '../shared/format.js';
import { Page, QueryView } from '../shared/states.js';
import { LotsTable } from './lots-table.js';
import { Ranking } from './ranking.js';
import { subjectPath, type TraceSubject } from './trace-subject.js';
import { TraceFoot } from './trace-page.js';
import { useKeptTrace } from './traces.queries.js';
import { WindowsTable } from './windows-table.js';

export function KeptTracePage() {
  const { t } = useTranslation('traces');
  const id = Number(useParams()['id']);
  return <QueryView query={useKeptTrace(id)} what={t('loadingKept')}>{(kept) => <Shown kept={kept} />}</QueryView>;
}

/** The ranking that a person saw when acting on it, whatever came in since; nothing here can be changed. */
function Shown({ kept }: { kept: KeptTrace }) {
  const { t } = useTranslation('traces');
  const format = useFormat();
  const subject: TraceSubject = kept.incidentId === null ? { kind: 'signal', id: kept.signalId ?? 0 } : { kind: 'incident', id: kept.incidentId };
  const { trace } = kept;
  const actions = (
    <>
      <Button component={Link} to={`${subjectPath(subject)}/trace`} size="md">{t('kept.now')}</Button>
      <Button component={Link} to={subjectPath(subject)} variant="default" size="md">{t(`back.${subject.kind}`)}</Button>
    </>
  );
  return (
    <Page title={t(`kept.title.${subject.kind}`, { id: subject.id, at: format.dateTime(kept.keptAt) })} actions={actions}>
      <Stack gap="xl">
        <Alert color="gray" title={t('kept.done', { who: kept.actor, where: kept.origin ?? t('act.whole') })}>
          <Text style={{ whiteSpace: 'pre-wrap' }}>{kept.comment}</Text>
          <Text pt="xs">{t('kept.frozen', { software: kept.software })}</Text>
        </Alert>
        <Alert color="gray">{t('caution')}{trace.caution ? <Text pt="xs">{trace.caution}</Text> : null}</Alert>
        <Ranking trace={trace} subject={subject} chosen={kept.chosen} />
        <WindowsTable trace={trace} />
        <LotsTable trace={trace} />
        <TraceFoot trace={trace} />
      </Stack>
    </Page>
  );
}

import { Button, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Incident } from '#contract/incidents';
import { ProblemError } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { useIncident } from './incidents.queries.js';

/** A refusal, or that the incident was changed meanwhile: then the newest is loaded and shown, and what was typed stays. */
export function ConflictNotice({ error, incidentId, shown, onFresh }: { error: unknown; incidentId: number; shown: (incident: Incident) => string; onFresh: (revision: number) => void }) {
  const { t } = useTranslation('incidentLife');
  const newest = useIncident(incidentId);
  if (!(error instanceof ProblemError && error.problem.code === 'changed-meanwhile')) return <ProblemList error={error} />;
  return (
    <div role="alert">
      <Text>{t('step.conflict')}</Text>
      {newest.data ? <Text size="sm" style={{ whiteSpace: 'pre-wrap' }}>{t('step.onRecord', { text: shown(newest.data) || t('step.nothing') })}</Text> : null}
      <Button variant="default" mt="xs" loading={newest.isFetching} onClick={() => void newest.refetch().then(({ data }) => { if (data) onFresh(data.revision); })}>{t('step.again')}</Button>
    </div>
  );
}

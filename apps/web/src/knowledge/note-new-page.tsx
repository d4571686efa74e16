import { Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { useNavigate, useSearchParams } from 'react-router';
import type { Incident } from '#contract/incidents';
import type { NoteTexts } from '#contract/knowledge';
import { useDefects } from '../shared/defects.queries.js';
import { usePlant } from '../shared/plant.queries.js';
import { Page, QueryView } from '../shared/states.js';
import { useCreateNote, useSourceIncident } from './knowledge.queries.js';
import { emptyNote, NoteForm } from './note-form.js';

const idOf = (text: string | null): number | null => (text !== null && /^[1-9]\d{0,9}$/.test(text) ? Number(text) : null);

/** /past-fixes/new, from a signal (?signal=) or an incident (?incident=), whose texts are the first draft. */
export function NoteNewPage() {
  const { t } = useTranslation('knowledge');
  const [params] = useSearchParams();
  const incidentId = idOf(params.get('incident'));
  const source = useSourceIncident(incidentId);
  return (
    <Page title={t('form.newTitle')}>
      {incidentId === null ? <NewNote signalId={idOf(params.get('signal'))} incidentId={null} first={emptyNote} />
        : <QueryView query={source} what={t('loadingNote')}>{(incident) => <NewNote signalId={null} incidentId={incidentId} first={draftFrom(incident)} />}</QueryView>}
    </Page>
  );
}

function NewNote({ signalId, incidentId, first }: { signalId: number | null; incidentId: number | null; first: NoteTexts }) {
  const { t } = useTranslation('knowledge');
  const navigate = useNavigate();
  const [defects, plant, create] = [useDefects(), usePlant(), useCreateNote()];
  const onSave = (note: NoteTexts) => create.mutate({ ...note, signalId: signalId ?? undefined, incidentId: incidentId ?? undefined }, { onSuccess: ({ id }) => void navigate(`/past-fixes/${id}`) });
  return (
    <>
      {signalId === null ? null : <Text>{t('form.citesSignal', { id: signalId })}</Text>}
      {incidentId === null ? null : <Text>{t('form.citesIncident', { id: incidentId })}</Text>}
      <QueryView query={defects} what={t('loadingDefects')}>
        {(known) => <QueryView query={plant} what={t('loadingDefects')}>{({ lines }) => <NoteForm first={first} defects={known.defects} stepKinds={known.stepKinds} lines={lines} busy={create.isPending} error={create.error} save={t('form.save')} onSave={onSave} />}</QueryView>}
      </QueryView>
    </>
  );
}

const draftFrom = (incident: Incident): NoteTexts => ({
  ...emptyNote, title: incident.defectName, symptom: incident.description, place: incident.leakPlace, cause: incident.cause, fix: incident.action, verified: incident.closingNote, defect: incident.defect,
});

import { Alert, Button, Stack } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link, useParams, useSearchParams } from 'react-router';
import type { Incident } from '#contract/incidents';
import { HoldsOf } from '../shared/holds-of.js';
import { RecordSignatures } from '../shared/record-signatures.js';
import { NotForAuditors } from '../shared/not-for-auditors.js';
import { Page, QueryView } from '../shared/states.js';
import { CanGenealogy } from './can-genealogy.js';
import { IncidentCaution } from './incident-caution.js';
import { IncidentClose } from './incident-close.js';
import { IncidentEvents } from './incident-events.js';
import { IncidentFacts } from './incident-facts.js';
import { IncidentHistory } from './incident-history.js';
import { IncidentLife } from './incident-life.js';
import { IncidentNotes } from './incident-notes.js';
import { IncidentPhotos } from './incident-photos.js';
import { IncidentSignals } from './incident-signals.js';
import { IncidentTexts } from './incident-texts.js';
import { IncidentSurroundings } from './incident-surroundings.js';
import { IncidentVerify } from './incident-verify.js';
import { IncidentWhys } from './incident-whys.js';
import { useIncident } from './incidents.queries.js';

export function IncidentPage() {
  const { t } = useTranslation('incidents');
  const { id } = useParams();
  return <QueryView query={useIncident(Number(id))} what={t('loadingOne')}>{(incident) => <ShownIncident key={incident.id} incident={incident} />}</QueryView>;
}

/** Where it stands and what is next; then the facts, what the line remembers of those hours, what helped before, and what was shown. */
function ShownIncident({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidents');
  const { t: life } = useTranslation('incidentLife');
  const { t: traces } = useTranslation('traces');
  const [params] = useSearchParams();
  const { reply } = incident;
  return (
    <Page title={t('page.title', { id: incident.id, defect: incident.defectName })} actions={<><NotForAuditors><Button component={Link} to={`/incidents/${incident.id}/trace`} size="md">{traces('to')}</Button><Button component={Link} to={`/incidents/${incident.id}/reply`} variant="default" size="md">{reply === null ? life('reply.link') : life('reply.linkVersion', { version: reply.version, state: life(reply.counts ? 'reply.counts' : 'reply.draft') })}</Button></NotForAuditors><Button component={Link} to="/incidents" variant="default" size="md">{t('page.back')}</Button></>}>
      <Stack gap="xl">
        {params.get('photos') === 'refused' ? <Alert color="gray" role="alert">{t('form.photosFailed')}</Alert> : null}
        <IncidentLife incident={incident} />
        <IncidentFacts incident={incident} />
        <CanGenealogy incident={incident} />
        <IncidentCaution />
        <IncidentTexts incident={incident} />
        <NotForAuditors><HoldsOf of={{ incidentId: incident.id }} place={{ lineId: incident.lineId, stepId: incident.codedAtStepId, unitId: incident.unitId, laneId: incident.laneId, from: incident.madeAt, until: incident.madeUntil }} /></NotForAuditors>
        <IncidentWhys incident={incident} />
        <NotForAuditors><IncidentSurroundings incident={incident} /></NotForAuditors>
        <NotForAuditors><IncidentEvents incident={incident} /></NotForAuditors>
        <IncidentSignals incident={incident} />
        <NotForAuditors><IncidentNotes incident={incident} /></NotForAuditors>
        <IncidentPhotos incident={incident} />
        <NotForAuditors><IncidentVerify incident={incident} /></NotForAuditors>
        <IncidentClose incident={incident} />
        <RecordSignatures kind="incident" recordId={incident.id} meanings={['reviewed', 'approved']} />
        <IncidentHistory incident={incident} />
      </Stack>
    </Page>
  );
}

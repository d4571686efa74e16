import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { useNavigate } from 'react-router';
import { useDefects } from '../shared/defects.queries.js';
import { useFormat } from '../shared/format.js';
import { usePlant } from '../shared/plant.queries.js';
import { Page, QueryView } from '../shared/states.js';
import { IncidentCaution } from './incident-caution.js';
import { emptyDraft } from './incident-draft.js';
import { IncidentForm } from './incident-form.js';
import { useLogIncident } from './incidents.queries.js';

export function IncidentNewPage() {
  const { t } = useTranslation('incidents');
  const format = useFormat();
  const navigate = useNavigate();
  const [defects, plant, log] = [useDefects(), usePlant(), useLogIncident()];
  const [first] = useState(() => emptyDraft(format.toInput(new Date().toISOString())));
  return (
    <Page title={t('form.title')}>
      <IncidentCaution />
      <QueryView query={defects} what={t('loadingDefects')}>
        {(known) => (
          <QueryView query={plant} what={t('loadingPlant')}>
            {({ lines, products }) => (
              <IncidentForm first={first} defects={known.defects} leakPlaces={known.leakPlaces} lines={lines} products={products.filter(({ retired }) => !retired)} busy={log.isPending} error={log.error}
                onLog={(body, photos) => log.mutate({ body, photos }, { onSuccess: ({ incident, photosFailed }) => void navigate(photosFailed ? `/incidents/${incident.id}?photos=refused` : `/incidents/${incident.id}/trace`) })} />
            )}
          </QueryView>
        )}
      </QueryView>
    </Page>
  );
}

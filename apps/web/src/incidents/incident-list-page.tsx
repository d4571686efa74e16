import { Button, Group, NativeSelect, SimpleGrid, Stack, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { incidentStates } from '#contract/incident-shapes';
import { investigators } from '#contract/roles';
import { useAddressParams } from '../shared/address-params.js';
import { useMay } from '../shared/session.js';
import { NotForAuditors } from '../shared/not-for-auditors.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { type IncidentListView, readIncidentListUrl, readListState, writeIncidentListUrl } from './incident-list.url.js';
import { IncidentOverdue } from './incident-overdue.js';
import { IncidentTable } from './incident-table.js';
import { IncidentTally } from './incident-tally.js';
import { useIncidents } from './incidents.queries.js';

/** Complaints and findings: what is open, whose cans, which defects. */
export function IncidentListPage() {
  const { t } = useTranslation('incidents');
  const { t: life } = useTranslation('incidentLife');
  const [params, changeParams] = useAddressParams();
  const view = readIncidentListUrl(params);
  const change = (next: Partial<IncidentListView>) => changeParams((now) => writeIncidentListUrl({ ...readIncidentListUrl(now), ...next }), { replace: true });
  const list = useIncidents({ state: view.state, customer: view.customer, defect: view.defect, take: view.take });
  const filtered = view.state !== undefined || view.customer !== undefined || view.defect !== undefined;
  const mayLog = useMay(investigators);
  return (
    <Page title={t('title')} actions={<><NotForAuditors><Button component={Link} to="/incidents/pareto" variant="default" size="md">{life('pareto.link')}</Button></NotForAuditors>{mayLog ? <Button component={Link} to="/incidents/new" size="md">{t('new')}</Button> : null}</>}>
      <NotForAuditors><IncidentOverdue /></NotForAuditors>
      <QueryView query={list} what={t('loading')}>
        {(data) => (
          <Stack gap="md">
            <Group align="flex-end" gap="sm">
              <NativeSelect size="md" label={t('list.state')} value={view.state ?? ''} data={[{ value: '', label: t('list.anyState') }, { value: 'not-closed', label: life('notClosed') }, ...incidentStates.map((state) => ({ value: state, label: life(`state.${state}`) }))]}
                onChange={({ currentTarget: { value } }) => change({ state: readListState(value) })} />
              <NativeSelect size="md" label={t('list.customer')} value={view.customer ?? ''} data={[{ value: '', label: t('list.anyCustomer') }, ...data.customers]} onChange={({ currentTarget: { value } }) => change({ customer: value || undefined })} />
              <NativeSelect size="md" label={t('list.defect')} value={view.defect ?? ''} data={[{ value: '', label: t('list.anyDefect') }, ...data.defects.map(({ value, name }) => ({ value, label: name }))]} onChange={({ currentTarget: { value } }) => change({ defect: value || undefined })} />
              {filtered ? <Button variant="subtle" size="md" onClick={() => changeParams(() => new URLSearchParams())}>{t('list.clear')}</Button> : null}
            </Group>
            {data.total === 0 ? (
              filtered ? <EmptyState title={t('empty.filtered.title')} text={t('empty.filtered.text')} /> : <EmptyState title={t('empty.none.title')} text={t('empty.none.text')} action={mayLog ? <Button component={Link} to="/incidents/new" size="md">{t('new')}</Button> : null} />
            ) : (
              <>
                <Text fw={600} role="status">{t('list.counts', { open: data.open, total: data.total })}</Text>
                <IncidentTable rows={data.rows} />
                {data.rows.length < data.total && view.take < 200 ? <Button variant="default" size="md" onClick={() => change({ take: view.take + 50 })}>{t('list.more')}</Button> : null}
                <SimpleGrid cols={{ base: 1, md: 2 }} spacing="lg">
                  <IncidentTally title={t('list.byCustomer')} entries={data.byCustomer} onChoose={(customer) => change({ customer })} />
                  <IncidentTally title={t('list.byDefect')} entries={data.byDefect} onChoose={(defect) => change({ defect })} />
                </SimpleGrid>
              </>
            )}
          </Stack>
        )}
      </QueryView>
    </Page>
  );
}

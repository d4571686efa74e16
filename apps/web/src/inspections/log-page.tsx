import { Group, NativeSelect, Stack } from '@mantine/core';
import { useEffect, useMemo, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { useLocation, useSearchParams } from 'react-router';
import type { AnswerOf } from '#contract/endpoint';
import type { getPlant } from '#contract/plant';
import { recorders } from '#contract/roles';
import { isBegin } from '../shared/due-words.js';
import { usePlant } from '../shared/plant.queries.js';
import { useMay, usePerson } from '../shared/session.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { byTouch } from './by-touch.js';
import { keepDraft, loadDraft } from './draft-store.js';
import { DueList } from './due-list.js';
import { fits } from './entry-draft.js';
import { EntryForm } from './entry-form.js';
import { entryPlant } from './entry-plant.js';
import { useKeepRecentChecks } from './inspections.queries.js';
import { type LogView, readLogView, writeLogView } from './log.url.js';
import { PhotosOnTheirWay } from './photos-on-their-way.js';
import { sheetNow } from './queue-basis.js';
import type { QueueItem } from './queue-item.js';
import { QueuePanel } from './queue-panel.js';
import { removeQueued } from './queue-store.js';
import { RecentChecks } from './recent-checks.js';
import { choices, sheetOf } from './sheet.js';
import { streamChart } from './stream-chart.js';
import { UnreadableRows } from './unreadable-rows.js';

export function LogPage() {
  const { t } = useTranslation('inspections');
  const query = usePlant();
  const [params] = useSearchParams();
  if (!useMay(recorders)) return <Page title={t('log.title')}><EmptyState title={t('log.notYours')} text={t('log.notYoursText')} /></Page>;
  return (
    <Page title={t('log.title')}>
      <DueList key={params.get('machine')} folded={params.has('machine')} />
      <QueryView query={query} what={t('log.loading')} isEmpty={(plant) => entryPlant(plant).plans.length === 0} empty={<EmptyState title={t('log.noPlans')} text={t('log.noPlansText')} />}>
        {(plant) => <Log view={plant} />}
      </QueryView>
    </Page>
  );
}

function Log({ view: given }: { view: AnswerOf<typeof getPlant> }) {
  const plant = useMemo(() => entryPlant(given), [given]);
  const { t } = useTranslation('inspections');
  const [query, setQuery] = useSearchParams();
  const view = readLogView(query);
  const { machines, products, plans, machine, product, plan } = choices(plant, view);
  const sheet = useMemo(() => sheetOf(plant, { machine, product, plan }), [plant, machine, product, plan]);
  const choose = (change: Partial<LogView>) => setQuery(writeLogView({ ...view, ...change }), { replace: true });
  const idOf = (text: string) => (text === '' ? null : Number(text));
  const none = { value: '', label: t('log.choose') };
  const person = usePerson();
  useKeepRecentChecks();
  // Counted up when an entry comes back from the queue: the form then reads what is kept anew.
  const [round, setRound] = useState(0);
  const location = useLocation();
  const begun = isBegin(location.state) ? location.key : '';
  // A label was scanned: the address came with the page.
  const [scanned] = useState(() => byTouch() && view.machine !== null);
  const way = sheet === null ? '' : begun || (scanned ? 'scanned' : '');
  useEffect(() => { if (way !== '') toFirstCell(); }, [way]);
  const takeBack = (item: QueueItem) => {
    const of = sheetNow(plant, item);
    if (!of || !fits(of, item.draft)) return 'changed' as const;
    if (loadDraft(person.id, of)) return 'occupied' as const;
    // Under the key that it was sent with last: it may have been sent anew as a check of its own.
    keepDraft(person.id, of, { ...item.draft, key: item.key });
    void removeQueued(item.place);
    choose({ machine: of.machine.id, product: of.product.id, plan: of.plan.id, units: item.draft.units });
    setRound((before) => before + 1);
    return 'taken' as const;
  };
  return (
    <Stack gap="lg">
      <QueuePanel takeBack={takeBack} />
      <UnreadableRows />
      <PhotosOnTheirWay />
      <Group align="flex-end" gap="md">
        <NativeSelect size="md" label={t('log.machine')} value={String(machine?.id ?? '')} onChange={(event) => choose({ machine: idOf(event.currentTarget.value), product: null, plan: null, units: [] })}
          data={[none, ...[...new Set(machines.map(({ line }) => line))].map((line) => ({ group: line, items: machines.filter((entry) => entry.line === line).map((entry) => ({ value: String(entry.id), label: `${entry.code} ${entry.name}` })) }))]} />
        {products.length > 1 ? <NativeSelect size="md" label={t('log.product')} value={String(product?.id ?? '')} onChange={(event) => choose({ product: idOf(event.currentTarget.value), plan: null, units: [] })} data={[none, ...products.map((entry) => ({ value: String(entry.id), label: `${entry.code} ${entry.name}` }))]} /> : null}
        {product && plans.length > 0 ? <NativeSelect size="md" label={t('log.plan')} value={String(plan?.id ?? '')} onChange={(event) => choose({ plan: idOf(event.currentTarget.value), units: [] })} data={[none, ...plans.map((entry) => ({ value: String(entry.id), label: entry.name }))]} /> : null}
      </Group>
      {sheet === null
        ? view.machine !== null && !machine ? <EmptyState title={t('log.noPlanHere')} text={t('log.noPlanHereText')} /> : <EmptyState title={t('log.chooseTitle')} text={t('log.chooseText')} />
        : <EntryForm key={`${sheet.machine.id}/${sheet.plan.id}/${view.units.join()}/${round}/${begun}`} sheet={sheet} turn={view.units} chart={streamChart} />}
      {machine ? <RecentChecks machine={machine} /> : null}
    </Stack>
  );
}

/** Whoever follows "Log it" or scans a label stands at the first cell, and sees the rows below it. */
function toFirstCell(): void {
  document.querySelector('.grid-scroll')?.scrollIntoView({ block: 'start' });
  document.querySelector<HTMLInputElement>('.readings .cell-input')?.focus({ preventScroll: true });
}

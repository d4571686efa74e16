import { Button, Group, NativeSelect, Stack, Text } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { listReviews } from '#contract/records';
import { closers } from '#contract/roles';
import { useAddressParams } from '../shared/address-params.js';
import { useFormat } from '../shared/format.js';
import { call } from '../shared/http.js';
import { useMay, usePerson } from '../shared/session.js';
import { SignDialog } from '../shared/sign-dialog.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { leftChecks } from './left-checks.js';
import { ReviewTable } from './review-table.js';
import { VerifySection } from './verify-section.js';

const SHOWN = 100;

/** What waits for a second person's review, oldest first, and whether the records are as they were written. */
export function RecordsPage() {
  const { t } = useTranslation('records');
  const format = useFormat();
  const [maySign, person] = [useMay(closers), usePerson()];
  const [params, change] = useAddressParams();
  const day = /^\d{4}-\d{2}-\d{2}$/.test(params.get('day') ?? '') ? (params.get('day') ?? undefined) : undefined;
  const [choices, setChoices] = useState<ReadonlyMap<number, boolean>>(new Map());
  const [signing, setSigning] = useState(false);
  const [signed, setSigned] = useState<number | null>(null);
  const query = useQuery({ queryKey: ['records', 'reviews', day ?? null], queryFn: ({ signal }) => call(listReviews, { query: { ...(day ? { day } : {}), take: SHOWN }, signal }) });
  return (
    <Page title={t('title')}>
      <Text maw={760}>{t('intro')}</Text>
      <QueryView query={query} what={t('loading')}>{({ days, entries }) => {
        const mine = entries.filter((entry) => entry.enteredBy.id !== person.id);
        const left = leftChecks(mine, choices);
        const chosen = mine.filter((entry) => !left.has(entry.checkId));
        const waiting = days.reduce((sum, each) => sum + each.waiting, 0);
        if (waiting === 0) return <EmptyState title={t('empty.title')} text={t('empty.text')} />;
        return (
          <Stack gap="md">
            <Group gap="md" align="end">
              <NativeSelect size="md" label={t('days.title')} value={day ?? ''} data={[{ value: '', label: t('days.all') }, ...(day === undefined || days.some((each) => each.day === day) ? days : [...days, { day, waiting: 0 }]).map((each) => ({ value: each.day, label: t('days.day', { day: format.day(each.day), count: each.waiting }) }))]} onChange={({ currentTarget: { value } }) => change((now) => { if (value) now.set('day', value); else now.delete('day'); return now; }, { replace: true })} />
              <Text fw={600} role="status">{t('days.waiting', { count: waiting })}</Text>
              {maySign ? <Button size="md" disabled={chosen.length === 0} onClick={() => { setSigned(null); setSigning(true); }}>{t('sign.reviewOpen', { count: chosen.length })}</Button> : null}
            </Group>
            {signed === null ? null : <Text role="status" fw={600}>{t('sign.done', { count: signed })}</Text>}
            {entries.length === 0 ? <Text c="dimmed">{t('days.none')}</Text> : <ReviewTable entries={entries} maySign={maySign} personId={person.id} left={left} onChoose={(checkIds, chosenNow) => setChoices((before) => new Map([...before, ...checkIds.map((id) => [id, chosenNow] as const)]))} />}
            {entries.length === SHOWN ? <Text c="dimmed">{t('table.shown', { count: SHOWN })}</Text> : null}
            {signing ? <SignDialog meaning="reviewed" records={chosen.map((entry) => ({ kind: 'check', recordId: entry.checkId, contentHash: entry.contentHash }))} onClose={() => setSigning(false)} onSigned={(count) => { setSigning(false); setSigned(count); setChoices(new Map()); }} /> : null}
          </Stack>
        );
      }}</QueryView>
      <VerifySection />
    </Page>
  );
}

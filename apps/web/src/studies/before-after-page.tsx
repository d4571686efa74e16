import { Button, NativeSelect, SimpleGrid, Stack, Text, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { useNavigate } from 'react-router';
import type { StreamListed } from '#contract/specifications';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { StreamPicker } from '../shared/stream-picker/stream-picker.js';
import { useKeepBeforeAfter, useLineEvents, useStreams } from './study-records.queries.js';

const SPANS = ['1', '3', '7', '14', '30', '60'] as const;
const EXPECTED = ['differ', 'higher', 'lower'] as const;
const BASES = ['subgroups', 'cans'] as const;
const DAY = 86_400_000;
const EVENTS_SHOWN = 100;

export function BeforeAfterPage() {
  const { t } = useTranslation('studyRecords');
  const streams = useStreams();
  return (
    <Page title={t('beforeAfter.title')}>
      <QueryView query={streams} what={t('beforeAfter.loading')} isEmpty={(data) => data.streams.length === 0} empty={<EmptyState title={t('beforeAfter.none')} text={t('beforeAfter.noneText')} />}>
        {({ streams: [first, ...rest] }) => (first ? <CompareForm streams={[first, ...rest]} first={first} /> : null)}
      </QueryView>
    </Page>
  );
}

function CompareForm({ streams, first }: { streams: readonly StreamListed[]; first: StreamListed }) {
  const { t } = useTranslation('studyRecords');
  const format = useFormat();
  const navigate = useNavigate();
  const keep = useKeepBeforeAfter();
  const [streamId, setStreamId] = useState(first.id);
  const stream = streams.find(({ id }) => id === streamId) ?? first;
  const [form, setForm] = useState({ title: '', event: '', change: '', at: '', before: '14', after: '14', expected: 'differ', basis: 'subgroups' });
  const set = (change: Partial<typeof form>) => setForm((now) => ({ ...now, ...change }));
  const events = useLineEvents(stream.line.id);
  // The newest are asked about most; a list of a thousand is no choice.
  const choices = (events.data?.events ?? []).filter(({ machineId, kind }) => kind !== 'shift-change' && (machineId === null || machineId === stream.machine.id)).slice(-EVENTS_SHOWN).reverse();
  const takeEvent = (value: string) => {
    const event = choices.find(({ id }) => String(id) === value);
    set(event ? { event: value, change: event.text, at: format.toInput(event.until ?? event.at) } : { event: '' });
  };
  const chooseStream = (id: number) => { setStreamId(id); set({ event: '' }); };
  const moment = form.at === '' ? null : format.fromInput(form.at);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (moment === null) return;
    const at = Date.parse(moment);
    keep.mutate({ title: form.title.trim(), asked: {
      streamId: stream.id, change: form.change.trim(), changedAt: moment, eventId: form.event === '' ? null : Number(form.event), basis: BASES.find((name) => name === form.basis) ?? 'subgroups', expected: EXPECTED.find((name) => name === form.expected) ?? 'differ',
      before: { from: new Date(at - Number(form.before) * DAY).toISOString(), to: moment }, after: { from: moment, to: new Date(at + Number(form.after) * DAY).toISOString() },
    } }, { onSuccess: ({ id }) => void navigate(`/studies/${id}`) });
  };
  const spans = SPANS.map((value) => ({ value, label: value }));
  return (
    <form onSubmit={submit}>
      <Stack gap="md" maw={1000}>
        <Text>{t('beforeAfter.intro')}</Text>
        <StreamPicker streams={streams} stream={stream} onChoose={chooseStream} />
        <TextInput size="md" required maxLength={200} label={t('beforeAfter.name')} value={form.title} onChange={({ currentTarget: { value } }) => set({ title: value })} />
        <SimpleGrid cols={{ base: 1, sm: 2, md: 3 }}>
          <NativeSelect size="md" label={t('beforeAfter.event')} value={form.event} data={[{ value: '', label: t('beforeAfter.eventFree') }, ...choices.map(({ id, at, text }) => ({ value: String(id), label: `${format.dateTime(at)} ${text}` }))]} onChange={({ currentTarget: { value } }) => takeEvent(value)} />
          <TextInput size="md" required maxLength={200} label={t('beforeAfter.change')} value={form.change} onChange={({ currentTarget: { value } }) => set({ change: value })} />
          <TextInput size="md" type="datetime-local" required label={t('beforeAfter.at')} description={format.timeZone} value={form.at} error={form.at !== '' && moment === null ? t('beforeAfter.badTime') : undefined} onChange={({ currentTarget: { value } }) => set({ at: value })} />
          <NativeSelect size="md" label={t('beforeAfter.expected')} value={form.expected} data={EXPECTED.map((value) => ({ value, label: t(`beforeAfter.expectations.${value}`) }))} onChange={({ currentTarget: { value } }) => set({ expected: value })} />
          <NativeSelect size="md" label={t('beforeAfter.daysBefore')} value={form.before} data={spans} onChange={({ currentTarget: { value } }) => set({ before: value })} />
          <NativeSelect size="md" label={t('beforeAfter.daysAfter')} value={form.after} data={spans} onChange={({ currentTarget: { value } }) => set({ after: value })} />
          <NativeSelect size="md" label={t('beforeAfter.basis')} value={form.basis} data={BASES.map((value) => ({ value, label: t(`beforeAfter.bases.${value}`) }))} onChange={({ currentTarget: { value } }) => set({ basis: value })} />
        </SimpleGrid>
        <ProblemList error={keep.error} />
        <Button type="submit" size="md" w="max-content" loading={keep.isPending} disabled={moment === null || form.change.trim() === '' || form.title.trim() === ''}>{t('beforeAfter.do')}</Button>
      </Stack>
    </form>
  );
}

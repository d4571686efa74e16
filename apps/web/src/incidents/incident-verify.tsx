import { Button, Group, NativeSelect, SimpleGrid, Stack, Text, TextInput, Title } from '@mantine/core';
import { type FormEvent, useMemo, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { Incident } from '#contract/incidents';
import { investigators } from '#contract/roles';
import type { StreamListed } from '#contract/specifications';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { QueryView } from '../shared/states.js';
import { StreamPicker } from '../shared/stream-picker/stream-picker.js';
import { VerificationResult } from '../shared/verification-result.js';
import { useKeepVerification, usePreviewVerification, useStreams, type VerificationBody } from './incident-life.queries.js';

const SPANS = [1, 3, 7, 14, 30, 60] as const;
const EXPECTED = ['differ', 'higher', 'lower'] as const;
const BASES = ['subgroups', 'cans'] as const;
const DAY = 86_400_000;

/** Compares a stream before and after a change; kept comparisons stand below, as they were computed. */
export function IncidentVerify({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  const streams = useStreams();
  const mayKeep = useMay(investigators) && incident.state !== 'closed';
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('verify.title')}</Title>
      <Stack gap="md">
        {mayKeep ? (
          <QueryView query={streams} what={t('verify.loading')} isEmpty={(data) => data.streams.length === 0} empty={<Text c="dimmed">{t('verify.noStreams')}</Text>}>
            {(data) => <Comparer key={incident.action} incident={incident} streams={data.streams} />}
          </QueryView>
        ) : null}
        <div>
          <Title order={3} size="h5">{t('verify.keptTitle')}</Title>
          {incident.verifications.length === 0 ? <Text c="dimmed">{t('verify.none')}</Text> : incident.verifications.map(({ id, asked, answer, author, createdAt, version }) => (
            <details key={id} open={id === incident.verificationId}>
              <summary style={{ padding: '8px 0' }}>{t('verify.kept', { id, change: asked.change, author, at: format.dateTime(createdAt), version })}</summary>
              {id === incident.verificationId ? <Text fw={600}>{t('verify.relied', { verdict: incident.verdict })}</Text> : null}
              <VerificationResult answer={answer} />
            </details>
          ))}
        </div>
      </Stack>
    </section>
  );
}

function Comparer({ incident, streams }: { incident: Incident; streams: readonly StreamListed[] }) {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  const [preview, keep] = [usePreviewVerification(incident.id), useKeepVerification(incident.id)];
  // What a linked signal is about is looked at first.
  const likely = useMemo(() => {
    const signal = incident.signalList[0];
    const own = streams.filter(({ line }) => line.id === incident.lineId);
    return streams.find((stream) => signal && stream.machine.code === signal.machine && stream.characteristic.name === signal.characteristicName && (stream.unit?.code ?? null) === signal.machineUnit) ?? own[0] ?? streams[0];
  }, [incident, streams]);
  const [streamId, setStreamId] = useState(likely?.id ?? 0);
  const action = incident.steps.filter((step) => step.action === 'action-taken').at(-1);
  const [eventId, setEventId] = useState('');
  const [change, setChange] = useState(incident.action.slice(0, 200));
  const [changedAt, setChangedAt] = useState(format.toInput(action?.at ?? incident.madeAt));
  const [days, setDays] = useState<{ before: number; after: number }>({ before: 14, after: 14 });
  const [basis, setBasis] = useState<(typeof BASES)[number]>('subgroups');
  const [expected, setExpected] = useState<(typeof EXPECTED)[number]>('differ');
  const stream = streams.find(({ id }) => id === streamId) ?? likely;
  if (!stream) return null;
  const moment = format.fromInput(changedAt);
  const at = moment === null ? null : Date.parse(moment);
  const body: VerificationBody | null = at === null || moment === null || change.trim() === '' ? null : {
    streamId: stream.id, basis, expected, change: change.trim(), changedAt: moment, eventId: eventId === '' ? null : Number(eventId),
    before: { from: new Date(at - days.before * DAY).toISOString(), to: moment }, after: { from: moment, to: new Date(at + days.after * DAY).toISOString() },
  };
  const takeEvent = (value: string) => {
    setEventId(value);
    const event = incident.eventList.find(({ id }) => String(id) === value);
    if (event) { setChange(event.text); setChangedAt(format.toInput(event.until ?? event.at)); }
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (body) preview.mutate(body);
  };
  // What is shown is what would be kept: another choice takes the answer away.
  const shown = preview.data && JSON.stringify(preview.variables) === JSON.stringify(body) ? preview.data : null;
  return (
    <form onSubmit={submit} className="no-print">
      <Stack gap="sm">
        <Text>{t('verify.intro')}</Text>
        <StreamPicker streams={streams} stream={stream} onChoose={setStreamId} />
        <SimpleGrid cols={{ base: 1, sm: 2, md: 3 }} maw={1100}>
          {incident.eventList.length > 0 ? <NativeSelect size="md" label={t('verify.changeFrom')} value={eventId} data={[{ value: '', label: t('verify.changeFree') }, ...incident.eventList.map(({ id, at: when, text }) => ({ value: String(id), label: `${format.dateTime(when)} ${text}` }))]} onChange={({ currentTarget: { value } }) => takeEvent(value)} /> : null}
          <TextInput size="md" label={t('verify.change')} required maxLength={200} value={change} error={change.trim() === '' ? t('verify.neededChange') : undefined} onChange={({ currentTarget }) => setChange(currentTarget.value)} />
          <TextInput size="md" type="datetime-local" required label={t('verify.changedAt')} value={changedAt} error={moment === null ? t('verify.badTime') : undefined} onChange={({ currentTarget }) => setChangedAt(currentTarget.value)} />
          <NativeSelect size="md" label={t('verify.daysBefore')} value={String(days.before)} data={SPANS.map(String)} onChange={({ currentTarget: { value } }) => setDays({ ...days, before: Number(value) })} />
          <NativeSelect size="md" label={t('verify.daysAfter')} value={String(days.after)} data={SPANS.map(String)} onChange={({ currentTarget: { value } }) => setDays({ ...days, after: Number(value) })} />
          <NativeSelect size="md" label={t('verify.basis')} value={basis} data={BASES.map((value) => ({ value, label: t(`verify.bases.${value}`) }))} onChange={({ currentTarget: { value } }) => setBasis(value === 'cans' ? 'cans' : 'subgroups')} />
          <NativeSelect size="md" label={t('verify.expected')} value={expected} data={EXPECTED.map((value) => ({ value, label: t(`verify.expectations.${value}`) }))} onChange={({ currentTarget: { value } }) => setExpected(EXPECTED.find((known) => known === value) ?? 'differ')} />
        </SimpleGrid>
        <ProblemList error={preview.error ?? keep.error} />
        <Group gap="sm">
          <Button type="submit" size="md" variant="default" loading={preview.isPending} disabled={body === null}>{t('verify.preview')}</Button>
          {shown && body ? <Button size="md" loading={keep.isPending} onClick={() => keep.mutate(body, { onSuccess: () => preview.reset() })}>{t('verify.keep')}</Button> : null}
        </Group>
        {shown ? <VerificationResult answer={shown} /> : null}
      </Stack>
    </form>
  );
}

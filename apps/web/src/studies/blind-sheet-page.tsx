import { Anchor, Button, Group, Paper, Stack, Text, TextInput, Title } from '@mantine/core';
import { type FormEvent, useEffect, useRef, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link, useNavigate, useParams } from 'react-router';
import type { BlindSheet } from '#contract/gauge-studies';
import { correctors } from '#contract/roles';
import { useAddressParams } from '../shared/address-params.js';
import { ProblemError } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { useBlindSheet, useEnterTrial, useFinishGauge } from './study-records.queries.js';

/** One reading at a time, in the order that was drawn, without any earlier value. */
export function BlindSheetPage() {
  const { t } = useTranslation('studyRecords');
  const id = Number(useParams()['id']);
  const [params, change] = useAddressParams();
  const text = params.get('person');
  const person = text === null || !/^\d$/.test(text) ? undefined : Number(text);
  const query = useBlindSheet(id, person);
  const choose = (next: number | null) => change((now) => { if (next === null) now.delete('person'); else now.set('person', String(next)); return now; });
  return (
    <Page title={t('sheet.title', { id })} actions={<Anchor component={Link} underline="always" to={`/studies/${id}`}>{t('sheet.toStudy')}</Anchor>}>
      <QueryView query={query} what={t('sheet.loading')}>{(sheet) => (
        <Stack gap="md" maw={720}>
          <Text fw={600}>{sheet.title}</Text>
          {sheet.gauge ? <Text>{t('sheet.gauge', { gauge: sheet.gauge })}</Text> : null}
          {sheet.state === 'measuring' ? (person === undefined ? <Who sheet={sheet} onChoose={choose} /> : <Take sheet={sheet} person={person} onLeave={() => choose(null)} />) : <EmptyState title={t('sheet.closed')} text={t('sheet.finishHint')} action={<Button component={Link} size="md" to={`/studies/${id}`}>{t('sheet.toStudy')}</Button>} />}
        </Stack>
      )}</QueryView>
    </Page>
  );
}

function Who({ sheet, onChoose }: { sheet: BlindSheet; onChoose: (person: number) => void }) {
  const { t } = useTranslation('studyRecords');
  const navigate = useNavigate();
  const mayFinish = useMay(correctors);
  const finish = useFinishGauge(sheet.id);
  const complete = sheet.people.every(({ taken, of }) => taken === of);
  return (
    <Stack gap="sm">
      <Title order={2} size="h4">{t('sheet.who')}</Title>
      {sheet.people.map(({ name, taken, of }, index) => <Button key={name} size="xl" variant="default" onClick={() => onChoose(index)}>{t('sheet.person', { name, taken, of })}</Button>)}
      {complete && mayFinish ? <><Text>{t('sheet.finishHint')}</Text><Button size="lg" loading={finish.isPending} onClick={() => finish.mutate(undefined, { onSuccess: () => void navigate(`/studies/${sheet.id}`) })}>{t('sheet.finish')}</Button></> : null}
      <ProblemList error={finish.error} />
    </Stack>
  );
}

function Take({ sheet, person, onLeave }: { sheet: BlindSheet; person: number; onLeave: () => void }) {
  const { t } = useTranslation('studyRecords');
  const [retaking, setRetaking] = useState(false);
  const [text, setText] = useState('');
  const [reason, setReason] = useState('');
  const field = useRef<HTMLInputElement>(null);
  const enter = useEnterTrial(sheet.id);
  const who = sheet.people[person];
  const target = retaking ? sheet.last : sheet.next;
  const sequence = target?.sequence;
  // The next part begins in an empty field, ready for the next number.
  useEffect(() => { if (sequence !== undefined) field.current?.focus(); }, [sequence]);
  if (!who) return null;
  if (!target) return <Stack gap="sm"><Text role="status">{t('sheet.doneOne', { name: who.name })}</Text><Group gap="sm"><Button size="lg" onClick={onLeave}>{t('sheet.another')}</Button>{sheet.last ? <Button size="lg" variant="default" onClick={() => setRetaking(true)}>{t('sheet.retake')}</Button> : null}</Group></Stack>;
  const put = (value: number, unusual = false) => enter.mutate({ sequence: target.sequence, value, unusual, ...(retaking ? { retakeReason: reason.trim() } : {}) }, { onSuccess: () => { setText(''); setReason(''); setRetaking(false); } });
  const number = text.trim() === '' ? Number.NaN : Number(text.trim().replace(',', '.'));
  const submit = (event: FormEvent) => { event.preventDefault(); if (Number.isFinite(number)) put(number); };
  const ratings = sheet.scale === null ? null : sheet.scale.kind === 'ordinal' ? sheet.scale.grades.map((grade) => `${grade} ${sheet.unit}`) : sheet.scale.categories;
  const reasonMissing = retaking && reason.trim().length < 3;
  const odd = enter.error instanceof ProblemError && enter.error.problem.code === 'implausible-reading';
  return (
    <Paper withBorder p="lg" component="section">
      <form onSubmit={submit}>
        <Stack gap="md">
          <Text>{who.name}. {retaking ? null : t('sheet.place', { place: sheet.next?.place ?? 0, of: who.of })}</Text>
          <Title order={2} size="h1" aria-live="polite">{t(retaking ? 'sheet.retaking' : 'sheet.part', { part: target.part })}</Title>
          {retaking ? <TextInput size="lg" required maxLength={500} label={t('sheet.reason')} value={reason} onChange={({ currentTarget }) => setReason(currentTarget.value)} /> : null}
          {ratings === null ? (
            <TextInput ref={field} size="xl" inputMode="decimal" autoComplete="off" required maw={360} label={t('sheet.value', { characteristic: sheet.characteristic, unit: sheet.unit })} value={text} error={text !== '' && !Number.isFinite(number) ? t('sheet.badNumber') : undefined} onChange={({ currentTarget }) => { setText(currentTarget.value); enter.reset(); }} />
          ) : <fieldset style={{ border: 0, padding: 0, margin: 0 }}><legend>{t('sheet.rate', { characteristic: sheet.characteristic })}</legend><Group gap="sm" pt="xs">{ratings.map((word, place) => <Button key={word} size="xl" variant="default" loading={enter.isPending} disabled={reasonMissing} onClick={() => put(place)}>{word}</Button>)}</Group></fieldset>}
          <ProblemList error={enter.error} />
          <Group gap="sm">
            {ratings === null ? <Button type="submit" size="lg" loading={enter.isPending} disabled={!Number.isFinite(number) || reasonMissing}>{t('sheet.next')}</Button> : null}
            {odd ? <Button size="lg" variant="default" onClick={() => put(number, true)}>{t('sheet.unusual')}</Button> : null}
            {retaking ? <Button size="lg" variant="default" onClick={() => setRetaking(false)}>{t('sheet.cancelRetake')}</Button> : sheet.last ? <Button size="lg" variant="default" onClick={() => { setText(''); setRetaking(true); }}>{t('sheet.retake')}</Button> : null}
            <Button size="lg" variant="default" onClick={onLeave}>{t('sheet.another')}</Button>
          </Group>
          <Text size="sm" c="dimmed">{t('sheet.hidden')}</Text>
        </Stack>
      </form>
    </Paper>
  );
}

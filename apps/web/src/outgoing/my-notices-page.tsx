import { Alert, Anchor, Button, Checkbox, Group, Select, Stack, Text, TextInput, Title } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { type NoticeChoice, toldPeople } from '#contract/outgoing';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { draftOf, hoursFaults, hoursOfDraft } from './hours-draft.js';
import { HoursFields } from './hours-fields.js';
import { useEndCalendar, useEndMine, useMakeCalendar, useMyNotices, useSaveMine } from './outgoing.queries.js';
import { ShownOnce } from './shown-once.js';

const DIGESTS = ['60', '240', '720', '1440'] as const;

/** What the person is told by e-mail, when, and the calendar of due checks. */
export function MyNoticesPage() {
  const { t } = useTranslation('outgoing');
  const may = useMay(toldPeople);
  return <Page title={t('mine.title')}>{may ? <Mine /> : <EmptyState title={t('mine.reader')} text={t('mine.readerText')} action={<Anchor component={Link} to="/account">{t('mine.account')}</Anchor>} />}</Page>;
}

function Mine() {
  const { t } = useTranslation('outgoing');
  const mine = useMyNotices();
  // Kept here: the form begins anew with the first choice, and its word that it was saved must stay.
  const save = useSaveMine();
  return (
    <QueryView query={mine} what={t('mine.loading')}>{({ mailServer, choice, calendarSince, waiting }) => (
      <Stack gap="xl" maw={760}>
        <Anchor component={Link} to="/account">{t('mine.account')}</Anchor>
        {mailServer ? null : <Alert color="gray" title={t('mine.noServer')}>{t('mine.noServerText')}</Alert>}
        <ChoiceForm key={choice === null ? 'none' : 'chosen'} choice={choice} waiting={waiting} save={save} />
        <CalendarSection since={calendarSince} />
      </Stack>
    )}</QueryView>
  );
}

function ChoiceForm({ choice, waiting, save }: { choice: NoticeChoice | null; waiting: number; save: ReturnType<typeof useSaveMine> }) {
  const { t } = useTranslation('outgoing');
  const end = useEndMine();
  const [address, setAddress] = useState(choice?.address ?? '');
  const [signals, setSignals] = useState(choice?.signals ?? true);
  const [overdue, setOverdue] = useState(choice?.overdue ?? false);
  const [hours, setHours] = useState(() => draftOf(choice));
  const [asked, setAsked] = useState(false);
  const [digest, setDigest] = useState(String(choice?.digestMinutes ?? 0));
  const send = (event: FormEvent) => {
    event.preventDefault();
    setAsked(true);
    if (hoursFaults(hours).length > 0) return save.reset();
    save.mutate({ address, signals, overdue, ...hoursOfDraft(hours), digestMinutes: Number(digest) || null });
  };
  return (
    <form onSubmit={send}>
      <Stack gap="md">
        <Title order={2} size="h4">{t('mine.mail')}</Title>
        <TextInput label={t('mine.address')} type="email" required value={address} onChange={(event) => setAddress(event.currentTarget.value)} />
        <Checkbox label={t('mine.signals')} checked={signals} onChange={(event) => setSignals(event.currentTarget.checked)} />
        <Checkbox label={t('mine.overdue')} checked={overdue} onChange={(event) => setOverdue(event.currentTarget.checked)} />
        <HoursFields draft={hours} onChange={(change) => setHours((old) => ({ ...old, ...change }))} asked={asked} of="mail" />
        <Select label={t('mine.digest')} description={t('mine.hourly')} allowDeselect={false} value={digest} onChange={(next) => setDigest(next ?? '0')} data={[{ value: '0', label: t('mine.atOnce') }, ...DIGESTS.map((value) => ({ value, label: t('mine.every', { count: Number(value) / 60 }) }))]} />
        {waiting > 0 ? <Text size="sm">{t('mine.waiting', { count: waiting })}</Text> : null}
        {save.isError || end.isError ? <ProblemList error={save.error ?? end.error} /> : null}
        {save.isSuccess ? <Text role="status">{t('mine.saved')}</Text> : null}
        <Group>
          <Button type="submit" loading={save.isPending}>{t('mine.save')}</Button>
          {choice ? <Button variant="default" loading={end.isPending} onClick={() => { save.reset(); end.mutate(undefined); }}>{t('mine.end')}</Button> : null}
        </Group>
      </Stack>
    </form>
  );
}

function CalendarSection({ since }: { since: string | null }) {
  const { t } = useTranslation('outgoing');
  const format = useFormat();
  const [make, end] = [useMakeCalendar(), useEndCalendar()];
  return (
    <Stack gap="sm" align="flex-start" component="section">
      <Title order={2} size="h4">{t('calendar.title')}</Title>
      <Text c="dimmed">{t('calendar.text')}</Text>
      {since ? <Text>{t('calendar.since', { at: format.dateTime(since) })}</Text> : <Text>{t('calendar.none')}</Text>}
      {make.data ? <ShownOnce title={t('calendar.made')} text={t('calendar.madeText')} secret={`${window.location.origin}${make.data.path}`} onClose={() => make.reset()} /> : null}
      {make.isError || end.isError ? <ProblemList error={make.error ?? end.error} /> : null}
      <Group>
        <Button variant="default" loading={make.isPending} onClick={() => make.mutate(undefined)}>{since ? t('calendar.again') : t('calendar.make')}</Button>
        {since ? <Button variant="default" loading={end.isPending} onClick={() => { make.reset(); end.mutate(undefined); }}>{t('calendar.end')}</Button> : null}
      </Group>
    </Stack>
  );
}

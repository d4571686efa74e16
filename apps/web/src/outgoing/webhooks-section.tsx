import { Button, Checkbox, Group, Paper, Stack, Switch, Text, TextInput, Title } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { Webhook } from '#contract/outgoing';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { QueryView } from '../shared/states.js';
import { draftOf, hoursFaults, hoursOfDraft } from './hours-draft.js';
import { HoursFields, useHoursWords } from './hours-fields.js';
import { useChangeWebhook, useMakeWebhook, useRemoveWebhook, useTestWebhook, useLinksOut, useWebhooks } from './outgoing.queries.js';
import { ShownOnce } from './shown-once.js';

const KINDS = ['signal.raised', 'check.overdue'] as const;
const WORDS = { 'signal.raised': 'signal', 'check.overdue': 'overdue' } as const;

export function WebhooksSection() {
  const { t } = useTranslation('outgoing');
  const webhooks = useWebhooks();
  return (
    <Stack gap="sm" component="section" aria-labelledby="webhooks">
      <Title order={2} size="h4" id="webhooks">{t('hook.title')}</Title>
      <Text c="dimmed" maw={760}>{t('hook.text')}</Text>
      <LinksOut />
      <QueryView query={webhooks} what={t('hook.loading')} isEmpty={(list) => list.length === 0} empty={<Text>{t('hook.empty')}</Text>}>{(list) => <>{list.map((row) => <WebhookCard key={row.id} webhook={row} />)}</>}</QueryView>
      <NewWebhook />
    </Stack>
  );
}

/** Said once here, and in no message. */
function LinksOut() {
  const { t } = useTranslation('outgoing');
  const links = useLinksOut().data;
  if (!links) return null;
  return <Text size="sm" maw={760}>{links.publicUrl === null ? t('hook.noLinks') : t('hook.links', { address: links.publicUrl })}</Text>;
}

function WebhookCard({ webhook }: { webhook: Webhook }) {
  const { t } = useTranslation('outgoing');
  const { t: when } = useTranslation('toldHours');
  const format = useFormat();
  const hoursWords = useHoursWords();
  const [changing, setChanging] = useState(false);
  const [change, remove, test] = [useChangeWebhook(), useRemoveWebhook(), useTestWebhook()];
  const { id, name, url, kinds, allowInternal, active, waiting, held, failed, lastDeliveredAt } = webhook;
  const chosen = KINDS.filter((kind) => kinds.includes(kind));
  const error = change.error ?? remove.error ?? test.error;
  return (
    <Paper withBorder p="md">
      <Group justify="space-between" align="flex-start">
        <div>
          <Text fw={600}>{name}</Text>
          <Text size="sm" style={{ overflowWrap: 'anywhere' }}>{url}</Text>
          <Text size="sm" c="dimmed">{[...chosen.map((kind) => t(`hook.kinds.${WORDS[kind]}`)), allowInternal ? t('hook.internalYes') : null, lastDeliveredAt ? t('hook.last', { at: format.dateTime(lastDeliveredAt) }) : t('hook.noneYet')].filter((part) => part !== null).join(' · ')}</Text>
          <Text size="sm">{hoursWords(webhook)}</Text>
          {held > 0 ? <Text size="sm">{when('held', { count: held })}</Text> : null}
          {waiting + failed > 0 ? <Text size="sm">{t('hook.trouble', { waiting, failed })}</Text> : null}
        </div>
        <Group>
          <Switch checked={active} label={t('hook.active')} onChange={(event) => change.mutate({ id, name, url, kinds: chosen, allowInternal, active: event.currentTarget.checked })} />
          <Button variant="default" aria-expanded={changing} onClick={() => { change.reset(); setChanging(!changing); }} aria-label={when('changeOf', { name })}>{when('change')}</Button>
          <Button variant="default" onClick={() => test.mutate(id)} loading={test.isPending} aria-label={t('hook.testOf', { name })}>{t('hook.test')}</Button>
          <Button variant="default" onClick={() => { if (window.confirm(t('hook.removeSure', { name }))) remove.mutate(id); }} aria-label={t('hook.removeOf', { name })}>{t('hook.remove')}</Button>
        </Group>
      </Group>
      {changing ? <WebhookHours webhook={webhook} isPending={change.isPending} onSave={(hours) => change.mutate({ id, name, url, kinds: chosen, allowInternal, active, ...hours }, { onSuccess: () => setChanging(false) })} onCancel={() => { change.reset(); setChanging(false); }} /> : null}
      {error ? <ProblemList error={error} /> : null}
    </Paper>
  );
}

function WebhookHours({ webhook, isPending, onSave, onCancel }: { webhook: Webhook; isPending: boolean; onSave: (hours: ReturnType<typeof hoursOfDraft>) => void; onCancel: () => void }) {
  const { t } = useTranslation('toldHours');
  const [draft, setDraft] = useState(() => draftOf(webhook));
  const [asked, setAsked] = useState(false);
  const send = (event: FormEvent) => {
    event.preventDefault();
    setAsked(true);
    if (hoursFaults(draft).length === 0) onSave(hoursOfDraft(draft));
  };
  return (
    <form onSubmit={send} aria-label={t('title', { name: webhook.name })}>
      <Stack gap="sm" maw={760} pt="md">
        <HoursFields draft={draft} onChange={(next) => setDraft((old) => ({ ...old, ...next }))} asked={asked} of="hook" />
        <Group><Button type="submit" loading={isPending}>{t('save')}</Button><Button variant="default" onClick={onCancel}>{t('cancel')}</Button></Group>
      </Stack>
    </form>
  );
}

function NewWebhook() {
  const { t } = useTranslation('outgoing');
  const { t: when } = useTranslation('toldHours');
  const hoursWords = useHoursWords();
  const make = useMakeWebhook();
  const [name, setName] = useState('');
  const [url, setUrl] = useState('');
  const [kinds, setKinds] = useState<string[]>([...KINDS]);
  const [internal, setInternal] = useState(false);
  const [hours, setHours] = useState(() => draftOf(null));
  const [open, setOpen] = useState(false);
  const [asked, setAsked] = useState(false);
  const send = (event: FormEvent) => {
    event.preventDefault();
    setAsked(true);
    if (hoursFaults(hours).length > 0) { setOpen(true); return; }
    make.mutate({ name, url, kinds: KINDS.filter((kind) => kinds.includes(kind)), allowInternal: internal, ...hoursOfDraft(hours) }, { onSuccess: () => { setName(''); setUrl(''); setInternal(false); setHours(draftOf(null)); setAsked(false); setOpen(false); } });
  };
  return (
    <Stack gap="sm" pt="md">
      <Title order={3} size="h5">{when('newHook')}</Title>
      <form onSubmit={send}>
        <Stack gap="sm" maw={760}>
          <Group grow align="flex-start"><TextInput label={t('hook.name')} required value={name} onChange={(event) => setName(event.currentTarget.value)} /><TextInput label={t('hook.url')} type="url" required value={url} onChange={(event) => setUrl(event.currentTarget.value)} /></Group>
          <Checkbox.Group label={t('hook.what')} value={kinds} onChange={setKinds}><Group mt="xs">{KINDS.map((kind) => <Checkbox key={kind} value={kind} label={t(`hook.kinds.${WORDS[kind]}`)} />)}</Group></Checkbox.Group>
          <Checkbox label={t('hook.internal')} description={t('hook.internalHint')} checked={internal} onChange={(event) => setInternal(event.currentTarget.checked)} />
          <Group><Text size="sm">{when('saidOf', { hours: hoursWords(hoursOfDraft(hours)) })}</Text><Button variant="default" size="sm" aria-expanded={open} aria-label={when('changeNew')} onClick={() => setOpen(!open)}>{when('change')}</Button></Group>
          {open ? <HoursFields draft={hours} onChange={(change) => setHours((old) => ({ ...old, ...change }))} asked={asked} of="hook" /> : null}
          <Button type="submit" loading={make.isPending} style={{ alignSelf: 'flex-start' }}>{t('hook.make')}</Button>
        </Stack>
      </form>
      {make.isError ? <ProblemList error={make.error} /> : null}
      {make.data ? <ShownOnce title={t('hook.made', { name: make.data.webhook.name })} text={t('hook.madeText')} secret={make.data.secret} onClose={() => make.reset()} /> : null}
    </Stack>
  );
}

import { Button, Group, Modal, NativeSelect, Stack, Switch, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { FeedView } from '#contract/monitors';
import { ProblemList } from '../shared/problem-list.js';
import { useSaveBroker } from './monitors.queries.js';

/** A broker's address and how to speak to it; secrets stay in the server's environment. */
export function BrokerForm({ feed, onClose }: { feed: FeedView | null; onClose: () => void }) {
  const { t } = useTranslation('monitors');
  const save = useSaveBroker();
  const [name, setName] = useState(feed?.name ?? '');
  const [url, setUrl] = useState(feed?.url ?? 'mqtt://');
  const [clientId, setClientId] = useState(feed?.clientId ?? 'seamledger');
  const [protocol, setProtocol] = useState(feed?.protocol === 4 ? '4' : '5');
  const [user, setUser] = useState(feed?.userVariable ?? '');
  const [password, setPassword] = useState(feed?.passwordVariable ?? '');
  const [enabled, setEnabled] = useState(feed?.enabled ?? true);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    save.mutate({ id: feed?.id, revision: feed?.revision, body: { name, url, clientId, protocol: protocol === '4' ? 4 : 5, userVariable: user || null, passwordVariable: password || null, enabled } }, { onSuccess: onClose });
  };
  return (
    <Modal opened onClose={onClose} title={feed ? t('changeOf', { name: feed.name }) : t('add')} size="lg" closeButtonProps={{ 'aria-label': t('cancel') }}>
      <form onSubmit={submit}>
        <Stack>
          <TextInput size="md" label={t('broker.name')} required value={name} onChange={({ currentTarget }) => setName(currentTarget.value)} />
          <TextInput size="md" label={t('broker.url')} description={t('broker.urlHint')} required value={url} onChange={({ currentTarget }) => setUrl(currentTarget.value)} />
          <TextInput size="md" label={t('broker.clientId')} description={t('broker.clientHint')} required value={clientId} onChange={({ currentTarget }) => setClientId(currentTarget.value)} />
          <NativeSelect size="md" label={t('broker.protocol')} value={protocol} data={[{ value: '5', label: t('broker.five') }, { value: '4', label: t('broker.four') }]} onChange={({ currentTarget }) => setProtocol(currentTarget.value)} />
          <TextInput size="md" label={t('broker.user')} description={t('broker.variableHint')} value={user} onChange={({ currentTarget }) => setUser(currentTarget.value)} />
          <TextInput size="md" label={t('broker.password')} value={password} onChange={({ currentTarget }) => setPassword(currentTarget.value)} />
          <Switch size="md" label={t('broker.enabled')} checked={enabled} onChange={({ currentTarget }) => setEnabled(currentTarget.checked)} />
          {save.isError ? <ProblemList error={save.error} /> : null}
          <Group><Button type="submit" size="md" loading={save.isPending}>{t('save')}</Button><Button variant="default" size="md" onClick={onClose}>{t('cancel')}</Button></Group>
        </Stack>
      </form>
    </Modal>
  );
}

import { Anchor, Button, Checkbox, Group, NativeSelect, Stack, Table, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { type SignalRow, signalState } from '#contract/signals';
import { useAddressParams } from '../shared/address-params.js';
import { useFormat } from '../shared/format.js';
import { usePlant } from '../shared/plant.queries.js';
import { usePerson } from '../shared/session.js';
import { ageOf, placeOf, SignalSentence } from '../shared/signal-words.js';
import { StateBadge } from '../shared/state-badge.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { changeSignalListView, readSignalListUrl, type SignalListView, writeSignalListUrl } from './signal-list.url.js';
import { useSignals } from './signals.queries.js';

/** What is open, how old, whose. */
export function SignalListPage() {
  const { t } = useTranslation('signals');
  const [params, changeParams] = useAddressParams();
  const view = readSignalListUrl(params);
  const change = (next: Partial<SignalListView>) => changeParams((now) => writeSignalListUrl(changeSignalListView(readSignalListUrl(now), next)), { replace: !('before' in next) });
  const list = useSignals({ ...view, take: 50 });
  const filtered = params.size > 0;
  return (
    <Page title={t('title')}>
      <Filters view={view} change={change} clear={filtered ? () => changeParams(() => new URLSearchParams()) : null} />
      <QueryView query={list} what={t('loading')} isEmpty={(data) => data.signals.length === 0} empty={filtered ? <EmptyState title={t('list.filtered')} text={t('list.filteredText')} /> : <EmptyState title={t('list.none')} text={t('list.noneText')} />}>
        {(data) => (
          <Stack gap="md">
            <Text fw={600} role="status">{t('list.count', { count: data.total })}</Text>
            <SignalTable rows={data.signals} />
            <Group>
              {view.before !== undefined ? <Button variant="default" size="md" onClick={() => change({ before: undefined })}>{t('list.newest')}</Button> : null}
              {data.next !== null ? <Button variant="default" size="md" onClick={() => change({ before: data.next ?? undefined })}>{t('list.more')}</Button> : null}
            </Group>
          </Stack>
        )}
      </QueryView>
    </Page>
  );
}

function Filters({ view, change, clear }: { view: SignalListView; change: (next: Partial<SignalListView>) => void; clear: (() => void) | null }) {
  const { t } = useTranslation('signals');
  const person = usePerson();
  const { data: plant } = usePlant();
  const any = { value: '', label: t('list.any') };
  const idOf = (text: string) => (text === '' ? undefined : Number(text));
  const lines = plant?.lines ?? [];
  const machines = lines.filter(({ id }) => view.line === undefined || id === view.line).flatMap(({ steps }) => steps.flatMap((step) => step.machines));
  return (
    <Group align="flex-end" gap="sm">
      <NativeSelect size="md" label={t('list.state')} value={view.state} onChange={({ currentTarget: { value } }) => change({ state: readSignalListUrl(new URLSearchParams({ state: value })).state })}
        data={[{ value: 'not-closed', label: t('list.notClosed') }, ...signalState.options.map((value) => ({ value, label: t(`state.${value}`) })), { value: 'all', label: t('list.all') }]} />
      <NativeSelect size="md" label={t('list.line')} value={view.line ?? ''} onChange={({ currentTarget: { value } }) => change({ line: idOf(value) })} data={[any, ...lines.map(({ id, code, name }) => ({ value: String(id), label: `${code} ${name}` }))]} />
      <NativeSelect size="md" label={t('list.machine')} value={view.machine ?? ''} onChange={({ currentTarget: { value } }) => change({ machine: idOf(value) })} data={[any, ...machines.map(({ id, code, name }) => ({ value: String(id), label: `${code} ${name}` }))]} />
      <NativeSelect size="md" label={t('list.characteristic')} value={view.characteristic ?? ''} onChange={({ currentTarget: { value } }) => change({ characteristic: idOf(value) })} data={[any, ...(plant?.characteristics ?? []).map(({ id, name }) => ({ value: String(id), label: name }))]} />
      <Checkbox size="md" mb="xs" label={t('list.mine')} checked={view.assigned === person.id} onChange={({ currentTarget: { checked } }) => change({ assigned: checked ? person.id : undefined })} />
      {clear ? <Button variant="subtle" size="md" onClick={clear}>{t('list.clear')}</Button> : null}
    </Group>
  );
}

function SignalTable({ rows }: { rows: readonly SignalRow[] }) {
  const { t } = useTranslation('signals');
  const format = useFormat();
  return (
    <Table.ScrollContainer minWidth={860}>
      <Table verticalSpacing="sm">
        <Table.Thead><Table.Tr>{(['state', 'where', 'what', 'fired', 'age', 'who'] as const).map((name) => <Table.Th key={name} scope="col">{t(`list.${name}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>
          {rows.map((row) => {
            const age = ageOf(row.ageMinutes);
            return (
              <Table.Tr key={row.id}>
                <Table.Td><SignalStateWord state={row.state} /></Table.Td>
                <Table.Th scope="row"><Anchor component={Link} to={`/signals/${row.id}`} fw={600}>{placeOf(t, row.stream)}</Anchor><Text size="sm" c="dimmed">{row.stream.product.code}</Text></Table.Th>
                <Table.Td><SignalSentence signal={row} />{row.together.length > 0 ? <Text size="sm" c="dimmed">{t('list.together', { count: row.together.length })}</Text> : null}</Table.Td>
                <Table.Td>{format.dateTime(row.firedAt)}</Table.Td>
                <Table.Td>{t(age.key, age.values)}</Table.Td>
                <Table.Td>{row.assignee?.name ?? t('list.nobody')}</Table.Td>
              </Table.Tr>
            );
          })}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}

/** Only what still needs somebody has colour. */
export function SignalStateWord({ state }: { state: SignalRow['state'] }) {
  const { t } = useTranslation('signals');
  return state === 'open' || state === 'acknowledged' ? <StateBadge state="signal" word={t(`state.${state}`)} /> : <Text span c="dimmed">{t(`state.${state}`)}</Text>;
}

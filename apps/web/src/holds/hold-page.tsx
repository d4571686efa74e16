import { Anchor, Button, Group, Stack, Table, Text, Textarea, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link, useParams } from 'react-router';
import type { Hold } from '#contract/holds';
import { closers, investigators } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { RecordSignatures } from '../shared/record-signatures.js';
import { useMay } from '../shared/session.js';
import { Page, QueryView } from '../shared/states.js';
import { ArithmeticView } from './hold-arithmetic.js';
import { HoldBadge } from './hold-badge.js';
import { HoldDecide } from './hold-decide.js';
import { readPallets } from './hold-draft.js';
import { HoldHistory } from './hold-history.js';
import { HoldSampling } from './hold-sampling.js';
import { useAddPallets, useHold, useMoveHold, useReopenHold } from './holds.queries.js';

export function HoldPage() {
  const { t } = useTranslation('holds');
  const { id } = useParams();
  const hold = useHold(Number(id));
  return <QueryView query={hold} what={t('loadingOne')}>{(data) => <HoldView key={data.id} hold={data} />}</QueryView>;
}

function HoldView({ hold }: { hold: Hold }) {
  const { t } = useTranslation('holds');
  const format = useFormat();
  const [mayWork, mayDecide] = [useMay(investigators), useMay(closers)];
  const open = hold.state === 'placed' || hold.state === 'under-examination';
  return (
    <Page title={t('page.title', { id: hold.id, line: [hold.line, hold.machine, hold.unit, hold.lane].filter(Boolean).join(' ') })} actions={<Anchor component={Link} to="/holds" underline="always">{t('all')}</Anchor>}>
      <Stack gap="lg">
        <Text fw={600} maw={900}>{t('caution')}</Text>
        <Group gap="md">
          <HoldBadge hold={hold} /><Text>{t('list.by', { name: hold.openedBy, at: format.dateTime(hold.openedAt) })}</Text>
          {hold.signalId === null ? null : <Anchor component={Link} to={`/signals/${hold.signalId}`} underline="always">{t('page.signal', { id: hold.signalId })}</Anchor>}
          {hold.incidentId === null ? null : <Anchor component={Link} to={`/incidents/${hold.incidentId}`} underline="always">{t('page.incident', { id: hold.incidentId })}</Anchor>}
        </Group>
        <section><Title order={2} size="h4">{t('page.reason')}</Title><Text style={{ whiteSpace: 'pre-wrap' }} maw={820}>{hold.reason}</Text></section>
        <ArithmeticView arithmetic={hold.arithmetic} />
        <Pallets hold={hold} mayAdd={mayWork && (open || hold.state === 'proposed')} />
        {mayWork && (hold.state === 'proposed' || hold.state === 'placed') ? <NextStep hold={hold} /> : null}
        {mayWork && hold.state === 'under-examination' ? <HoldSampling hold={hold} /> : null}
        {open ? (mayDecide ? <HoldDecide hold={hold} /> : <Text c="dimmed">{t('decide.noRole')}</Text>) : null}
        {mayDecide && hold.state === 'decided' ? <Reopen hold={hold} /> : null}
        <RecordSignatures kind="hold" recordId={hold.id} meanings={['reviewed', 'approved']} />
        <HoldHistory hold={hold} />
      </Stack>
    </Page>
  );
}

function Pallets({ hold, mayAdd }: { hold: Hold; mayAdd: boolean }) {
  const { t } = useTranslation('holds');
  const format = useFormat();
  const add = useAddPallets(hold.id);
  const [text, setText] = useState('');
  const { pallets, badLines } = readPallets(text, format);
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('arithmetic.pallets')}</Title>
      {hold.palletList.length === 0 ? <Text>{t('page.noPallets')}</Text> : (
        <Table.ScrollContainer minWidth={480} mah={420}>
          <Table striped verticalSpacing={4} maw={820}>
            <Table.Thead><Table.Tr><Table.Th>{t('page.pallet')}</Table.Th><Table.Th>{t('page.time')}</Table.Th><Table.Th>{t('page.decision')}</Table.Th></Table.Tr></Table.Thead>
            <Table.Tbody>
              {hold.palletList.map((pallet) => (
                <Table.Tr key={pallet.id}>
                  <Table.Td>{pallet.code}</Table.Td>
                  <Table.Td>{pallet.from === null || pallet.until === null ? '–' : t('list.to', { from: format.dateTime(pallet.from), until: format.dateTime(pallet.until) })}</Table.Td>
                  <Table.Td>{pallet.disposition === null ? t('page.open') : t(`disposition.${pallet.disposition}`)}</Table.Td>
                </Table.Tr>
              ))}
            </Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
      {mayAdd ? (
        <Stack gap="xs" pt="sm" maw={820}>
          <Textarea size="md" label={t('page.addPallets')} description={t('form.palletsHint')} autosize minRows={1} maxRows={8} value={text} onChange={({ currentTarget: { value } }) => setText(value)} />
          {badLines.length > 0 ? <Text role="alert">{t('form.badLine', { count: badLines.length, what: badLines.map((row) => t('form.palletLine', { row })).join(', ') })}</Text> : null}
          <ProblemList error={add.error} />
          <Group><Button variant="default" size="md" disabled={pallets.length === 0 || badLines.length > 0} loading={add.isPending} onClick={() => add.mutate({ revision: hold.revision, pallets }, { onSuccess: () => setText('') })}>{t('page.addPallets')}</Button></Group>
        </Stack>
      ) : null}
    </section>
  );
}

function NextStep({ hold }: { hold: Hold }) {
  const { t } = useTranslation('holds');
  const move = useMoveHold(hold.id);
  const [comment, setComment] = useState('');
  const go = (to: 'placed' | 'under-examination' | 'withdrawn') => move.mutate({ revision: hold.revision, to, comment }, { onSuccess: () => setComment('') });
  const proposed = hold.state === 'proposed';
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('page.next')}</Title>
      <Stack gap="sm" maw={820}>
        <Textarea size="md" label={t('page.comment')} description={proposed ? t('page.commentHint') : undefined} autosize minRows={1} maxLength={8000} value={comment} onChange={({ currentTarget: { value } }) => setComment(value)} />
        <ProblemList error={move.error} />
        <Group>
          <Button size="md" loading={move.isPending} onClick={() => go(proposed ? 'placed' : 'under-examination')}>{proposed ? t('page.place') : t('page.examine')}</Button>
          {proposed ? <Button size="md" variant="default" disabled={comment.trim().length < 3} loading={move.isPending} onClick={() => go('withdrawn')}>{t('page.withdraw')}</Button> : null}
        </Group>
      </Stack>
    </section>
  );
}

function Reopen({ hold }: { hold: Hold }) {
  const { t } = useTranslation('holds');
  const reopen = useReopenHold(hold.id);
  const [reason, setReason] = useState('');
  return (
    <Stack gap="sm" maw={820}>
      <Textarea size="md" label={t('page.reopenWhy')} description={t('page.reopenHint')} autosize minRows={1} maxLength={4000} value={reason} onChange={({ currentTarget: { value } }) => setReason(value)} />
      <ProblemList error={reopen.error} />
      <Group><Button variant="default" size="md" disabled={reason.trim().length < 3} loading={reopen.isPending} onClick={() => reopen.mutate({ revision: hold.revision, reason }, { onSuccess: () => setReason('') })}>{t('page.reopen')}</Button></Group>
    </Stack>
  );
}

import { Alert, Anchor, Button, Code, CopyButton, Group, Stack, Text } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { type FeedToken, makeFeedToken, revokeFeedToken } from '#contract/feeds';
import type { PlantTree } from '#contract/plant';
import { feedScopes } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { StateBadge } from '../shared/state-badge.js';
import { QueryView } from '../shared/states.js';
import { useFeedTokens } from './feeds.queries.js';
import { type Field, SetUpForm, type Values } from './set-up-form.js';
import { SetUpTable } from './set-up-table.js';
import { useAct } from './set-up.queries.js';

const YEAR_MS = 365 * 86_400_000;

/** Tokens by which gauges and monitors send: made, shown once, revoked. */
export function FeedsSection({ tree }: { tree: PlantTree }) {
  const { t } = useTranslation('feeds');
  const format = useFormat();
  const [dialog, setDialog] = useState<'new' | FeedToken>();
  const [make, revoke] = [useAct(makeFeedToken), useAct(revokeFeedToken)];
  const machines = tree.lines.flatMap((line) => line.steps.flatMap((step) => step.machines)).map((machine) => ({ value: String(machine.id), label: `${machine.code} ${machine.name}` }));
  const fields: Field[] = [
    { name: 'name', label: t('name'), hint: t('nameHint'), kind: 'text', required: true },
    { name: 'scopes', label: t('scopes'), kind: 'many', options: feedScopes.map((value) => ({ value, label: t(`scope.${value}`) })) },
    { name: 'machineIds', label: t('machines'), hint: t('machinesHint'), kind: 'many', options: machines },
    { name: 'perMinute', label: t('perMinute'), hint: t('perMinuteHint'), kind: 'number', required: true },
    { name: 'expiresAt', label: t('expires'), hint: format.timeZone, kind: 'dateTime', required: true },
  ];
  const toBody = ({ machineIds, expiresAt, ...values }: Values) => ({ ...values, machineIds: Array.isArray(machineIds) ? machineIds.map(Number) : [], expiresAt: format.fromInput(String(expiresAt)) });
  const start = () => ({ name: '', scopes: ['checks'], machineIds: [], perMinute: 120, expiresAt: format.toInput(new Date(Date.now() + YEAR_MS).toISOString()) });
  return (
    <Stack>
      {make.data ? <TokenOnce token={make.data.token} name={make.data.made.name} onDone={make.reset} /> : null}
      <QueryView query={useFeedTokens()} what={t('loading')}>{(tokens) => (
        <SetUpTable title={t('title')} text={<>{t('text')} <Anchor href="/api/docs" underline="always">{t('docs')}</Anchor></>} empty={t('empty')} columns={[t('name'), t('token'), t('scopes'), t('machines'), t('limit'), t('used'), t('state')]}
          add={{ label: t('make'), onClick: () => { make.reset(); setDialog('new'); } }}
          rows={tokens.map((row) => ({ id: row.id, name: row.name, cells: [
            row.name, <Code key="hint">{t('hint', row)}</Code>, row.scopes.map((scope) => t(`scope.${scope}`)).join(', '), row.machines.join(', ') || t('allMachines'), t('limitOf', row), row.lastUsedAt === null ? t('never') : format.dateTime(row.lastUsedAt),
            <State key="state" row={row} onRevoke={() => { revoke.reset(); setDialog(row); }} />,
          ] }))} />
      )}</QueryView>
      {dialog === 'new' ? <SetUpForm title={t('make')} fields={fields} act={make} onClose={() => setDialog(undefined)} start={start()} toBody={toBody} /> : null}
      {dialog && dialog !== 'new' ? <SetUpForm title={t('revokeTitle', dialog)} fields={[{ name: 'reason', label: t('reason'), hint: t('reasonHint'), kind: 'longText', required: true }]} act={revoke} id={dialog.id} submit={t('revoke')} onClose={() => setDialog(undefined)} start={{ reason: '' }} toBody={(values) => values} /> : null}
    </Stack>
  );
}

/** Active ones have their end and the way to revoke; the others say what ended them. */
function State({ row, onRevoke }: { row: FeedToken; onRevoke: () => void }) {
  const { t } = useTranslation('feeds');
  const format = useFormat();
  if (row.state === 'revoked') return <Text size="sm">{t('revoked', { who: row.revokedBy ?? '', at: format.date(row.revokedAt ?? row.createdAt), reason: row.revokeReason ?? '' })}</Text>;
  if (row.state === 'expired') return <StateBadge state="due" word={t('expired', { at: format.date(row.expiresAt) })} />;
  return <Group gap="xs" wrap="nowrap"><Text size="sm">{t('until', { at: format.date(row.expiresAt) })}</Text><Button variant="default" size="xs" aria-label={t('revokeOf', row)} onClick={onRevoke}>{t('revoke')}</Button></Group>;
}

function TokenOnce({ token, name, onDone }: { token: string; name: string; onDone: () => void }) {
  const { t } = useTranslation('feeds');
  return (
    <Alert role="status" title={t('onceTitle', { name })}>
      <Stack gap="sm">
        <Text>{t('once')}</Text>
        <Code block style={{ overflowWrap: 'anywhere', whiteSpace: 'pre-wrap' }}>{token}</Code>
        <Group><CopyButton value={token}>{({ copied, copy }) => <Button variant="default" onClick={copy}>{copied ? t('copied') : t('copy')}</Button>}</CopyButton><Button onClick={onDone}>{t('kept')}</Button></Group>
      </Stack>
    </Alert>
  );
}

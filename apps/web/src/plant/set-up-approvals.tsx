import { Button, Group, Modal, PasswordInput, Stack, Switch, Text, Textarea, TextInput } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { SpecificationProposal } from '#contract/approvals';
import { administrators, closers } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay, usePerson } from '../shared/session.js';
import { QueryView } from '../shared/states.js';
import { useDecide, useProposals, useSetSecondPerson } from './approvals.queries.js';
import { EffectOfLimits } from './effect-of-limits.js';
import { SetUpTable } from './set-up-table.js';

/** Proposed revisions of all products, each with what it would have done and the way to decide on it. */
export function ApprovalsSection({ secondPerson }: { secondPerson: boolean }) {
  const { t } = useTranslation('portable');
  const format = useFormat();
  const proposals = useProposals();
  const [openId, setOpenId] = useState<number | null>(null);
  const shown = (value: number | null, { decimals, unit }: SpecificationProposal) => format.withUnit(value, decimals, unit);
  return (
    <QueryView query={proposals} what={t('approval.loading')}>{(rows) => {
      const open = rows.find(({ id }) => id === openId);
      return (
        <Stack gap="sm">
          <SetUpTable title={t('approval.title')} text={secondPerson ? t('approval.text') : t('approval.personOff')} empty={t('approval.none')} columns={[t('approval.what'), t('approval.limits'), t('approval.from'), t('approval.by'), t('approval.open')]}
            rows={rows.map((row) => ({ id: row.id, name: row.characteristic, cells: [t('approval.revision', row), t('approval.asProposed', { low: shown(row.lsl, row), high: shown(row.usl, row), target: shown(row.target, row), from: format.date(row.effectiveFrom) }), format.dateTime(row.effectiveFrom), t('approval.proposedBy', { author: row.author, at: format.dateTime(row.createdAt) }),
              <Button key="open" variant="default" size="md" onClick={() => setOpenId(row.id)} aria-label={t('approval.openOf', row)}>{t('approval.open')}</Button>] }))} />
          <SecondPerson secondPerson={secondPerson} />
          {open ? <Decision proposal={open} secondPerson={secondPerson} onClose={() => setOpenId(null)} /> : null}
        </Stack>
      );
    }}</QueryView>
  );
}

function Decision({ proposal, secondPerson, onClose }: { proposal: SpecificationProposal; secondPerson: boolean; onClose: () => void }) {
  const { t } = useTranslation('portable');
  const format = useFormat();
  const [person, mayDecide] = [usePerson(), useMay(closers)];
  const [comment, setComment] = useState('');
  const [password, setPassword] = useState('');
  const decide = useDecide(proposal.id);
  const isOwn = person.id === proposal.authorId;
  const mayApprove = mayDecide && !(isOwn && secondPerson);
  const shown = (value: number | null) => format.withUnit(value, proposal.decimals, proposal.unit);
  return (
    <Modal opened onClose={onClose} size="xl" title={t('approval.dialog', proposal)} closeButtonProps={{ 'aria-label': t('approval.close') }}>
      <Stack>
        <Text fw={600}>{t('approval.asProposed', { low: shown(proposal.lsl), high: shown(proposal.usl), target: shown(proposal.target), from: format.dateTime(proposal.effectiveFrom) })}</Text>
        <Text>{t('approval.proposedBy', { author: proposal.author, at: format.dateTime(proposal.createdAt) })}. {t('approval.reason', proposal)}</Text>
        <EffectOfLimits proposal={proposal} />
        {mayDecide ? (
          <form onSubmit={(event) => { event.preventDefault(); decide.mutate({ decision: 'approved', contentHash: proposal.contentHash, password, comment: comment.trim() }, { onSuccess: onClose, onError: () => setPassword('') }); }}>
            <Stack>
              {isOwn ? <Text fw={600}>{secondPerson ? t('approval.own') : t('approval.ownAllowed')}</Text> : null}
              <Textarea size="md" label={t('approval.comment')} description={t('approval.commentHint')} autosize minRows={2} maxLength={2000} value={comment} onChange={({ currentTarget }) => setComment(currentTarget.value)} />
              {mayApprove ? <PasswordInput size="md" label={t('approval.password')} autoComplete="current-password" value={password} onChange={({ currentTarget }) => setPassword(currentTarget.value)} /> : null}
              <ProblemList error={decide.error} />
              <Group>
                {mayApprove ? <Button size="md" type="submit" disabled={password === ''} loading={decide.isPending}>{t('approval.approve')}</Button> : null}
                <Button size="md" variant="default" disabled={comment.trim().length < 3} loading={decide.isPending} onClick={() => decide.mutate({ decision: 'rejected', comment: comment.trim() }, { onSuccess: onClose })}>{t('approval.reject')}</Button>
              </Group>
            </Stack>
          </form>
        ) : <Text c="dimmed">{t('approval.reader')}</Text>}
      </Stack>
    </Modal>
  );
}

/** A plant with a single engineer may do without; everybody sees which it is. */
function SecondPerson({ secondPerson }: { secondPerson: boolean }) {
  const { t } = useTranslation('portable');
  const mayManage = useMay(administrators);
  const [asked, setAsked] = useState<boolean | null>(null);
  const [reason, setReason] = useState('');
  const save = useSetSecondPerson();
  const close = () => { setAsked(null); setReason(''); save.reset(); };
  return (
    <>
      <Switch size="md" label={t('approval.person')} description={t('approval.personHint')} checked={secondPerson} disabled={!mayManage} onChange={({ currentTarget }) => setAsked(currentTarget.checked)} />
      {asked === null ? null : (
        <Modal opened onClose={close} title={t('approval.personTitle')} closeButtonProps={{ 'aria-label': t('approval.close') }}>
          <form onSubmit={(event) => { event.preventDefault(); save.mutate({ secondPerson: asked, reason }, { onSuccess: close }); }}>
            <Stack>
              <Text>{asked ? t('approval.text') : t('approval.personHint')}</Text>
              <TextInput size="md" required label={t('approval.personWhy')} value={reason} onChange={({ currentTarget }) => setReason(currentTarget.value)} />
              <ProblemList error={save.error} />
              <Group><Button size="md" type="submit" loading={save.isPending}>{t('approval.personSave')}</Button><Button size="md" variant="default" onClick={close}>{t('approval.personCancel')}</Button></Group>
            </Stack>
          </form>
        </Modal>
      )}
    </>
  );
}

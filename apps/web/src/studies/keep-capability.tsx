import { Button, Group, Modal, NativeSelect, Stack, Text, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { useNavigate } from 'react-router';
import { closers } from '#contract/roles';
import type { CapabilityChoice } from '#contract/studies';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { readExcluded } from './read-excluded.js';
import { useKeepCapability, useStudyRecords } from './study-records.queries.js';

type Asked = { product: number; machine: number; characteristic: number; from: string; to: string; unit?: number | undefined; lane?: number | undefined };

/** Keeps what the screen shows as a draft study. */
export function KeepCapability({ query, choice }: { query: Asked; choice: CapabilityChoice }) {
  const { t } = useTranslation('studyRecords');
  const [open, setOpen] = useState(false);
  return useMay(closers) ? <><Button size="md" onClick={() => setOpen(true)}>{t('keep.open')}</Button>{open ? <KeepDialog query={query} choice={choice} onClose={() => setOpen(false)} /> : null}</> : null;
}

function KeepDialog({ query, choice, onClose }: { query: Asked; choice: CapabilityChoice; onClose: () => void }) {
  const { t } = useTranslation('studyRecords');
  const navigate = useNavigate();
  const [title, setTitle] = useState(`${choice.characteristic.name}, ${choice.product.code}, ${choice.machine.code}`);
  const [note, setNote] = useState('');
  const [lines, setLines] = useState('');
  const [old, setOld] = useState('');
  const earlier = useStudyRecords({ kind: 'capability' });
  const keep = useKeepCapability();
  const { excluded, badLine } = readExcluded(lines);
  const same = (earlier.data?.studies ?? []).filter((study) => study.state !== 'superseded' && study.product?.id === query.product && study.machine?.id === query.machine && study.characteristic.id === query.characteristic);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (badLine === null) keep.mutate({ ...query, title: title.trim(), note, excluded, supersedesId: old === '' ? null : Number(old) }, { onSuccess: ({ id }) => void navigate(`/studies/${id}`) });
  };
  return (
    <Modal opened onClose={onClose} title={t('keep.title')} size="lg" closeButtonProps={{ 'aria-label': t('keep.close') }}>
      <form onSubmit={submit}>
        <Stack gap="md">
          <Text>{t('keep.intro')}</Text>
          <TextInput size="md" required data-autofocus maxLength={200} label={t('keep.name')} value={title} onChange={({ currentTarget }) => setTitle(currentTarget.value)} />
          <Textarea size="md" autosize minRows={2} label={t('keep.note')} maxLength={4000} value={note} onChange={({ currentTarget }) => setNote(currentTarget.value)} />
          <Textarea size="md" autosize minRows={2} label={t('keep.excluded')} description={t('keep.excludedHint')} value={lines} error={badLine === null ? undefined : t('keep.badExcluded', { line: badLine })} onChange={({ currentTarget }) => setLines(currentTarget.value)} />
          {same.length > 0 ? <NativeSelect size="md" label={t('keep.supersedes')} value={old} data={[{ value: '', label: t('keep.nothing') }, ...same.map((study) => ({ value: String(study.id), label: `${study.id} ${study.title}` }))]} onChange={({ currentTarget }) => setOld(currentTarget.value)} /> : null}
          <ProblemList error={keep.error} />
          <Group gap="sm"><Button type="submit" size="md" loading={keep.isPending} disabled={title.trim() === '' || badLine !== null}>{t('keep.do')}</Button><Button size="md" variant="default" onClick={onClose}>{t('keep.cancel')}</Button></Group>
        </Stack>
      </form>
    </Modal>
  );
}

import { Button, Group, Modal, PasswordInput, Stack, Text, Textarea } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { listSignatures } from '#contract/records';
import { call } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { usePerson } from '../shared/session.js';
import { useStep } from './study-records.queries.js';

/** Signs a study with the password asked anew and moves it on; what is signed is what the server showed. */
export function StepDialog({ id, state, onClose }: { id: number; state: 'checked' | 'approved'; onClose: () => void }) {
  const { t } = useTranslation('studyRecords');
  const { t: common } = useTranslation('common');
  const person = usePerson();
  const [password, setPassword] = useState('');
  const [comment, setComment] = useState('');
  const seen = useQuery({ queryKey: ['records', 'signatures', 'study-record', id], queryFn: ({ signal }) => call(listSignatures, { query: { kind: 'study-record', recordId: id }, signal }) });
  const step = useStep(id);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (seen.data && password !== '') step.mutate({ state, contentHash: seen.data.contentHash, password, comment: comment.trim() }, { onSuccess: onClose, onError: () => setPassword('') });
  };
  return (
    <Modal opened onClose={onClose} title={t(state === 'checked' ? 'step.check' : 'step.approve')} size="lg" closeButtonProps={{ 'aria-label': t('step.close') }}>
      <form onSubmit={submit}>
        <Stack gap="md">
          <Text>{t(`step.meaning.${state}`)}</Text>
          <Text>{t('step.as', { name: person.name, role: common(`roles.${person.role}`) })}</Text>
          <Textarea size="md" label={t('step.comment')} autosize minRows={2} maxLength={2000} value={comment} onChange={({ currentTarget }) => setComment(currentTarget.value)} />
          <PasswordInput size="md" label={t('step.password')} required autoComplete="current-password" data-autofocus value={password} onChange={({ currentTarget }) => setPassword(currentTarget.value)} />
          <ProblemList error={step.error ?? seen.error} />
          <Group gap="sm">
            <Button type="submit" size="md" loading={step.isPending} disabled={password === '' || !seen.data}>{t('step.do')}</Button>
            <Button variant="default" size="md" onClick={onClose}>{t('step.cancel')}</Button>
          </Group>
        </Stack>
      </form>
    </Modal>
  );
}

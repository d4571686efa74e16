import { Alert, Button, Checkbox, Group, List, Modal, Stack, Text, Textarea, TextInput } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { useFormat } from '../shared/format.js';
import { ProblemError } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { readCell } from './cell-typing.js';
import { useCorrectReading } from './inspections.queries.js';
import type { ChosenReading } from './readings-table.js';

/** Asks for the right value and the reason; an implausible value is asked about as on entry. */
export function CorrectDialog({ checkId, chosen, onClose, onStored }: { checkId: number; chosen: ChosenReading; onClose: () => void; onStored: (notRecomputed: string[]) => void }) {
  const { t } = useTranslation('inspections');
  const format = useFormat();
  const correct = useCorrectReading(checkId);
  const [text, setText] = useState('');
  const [takeAway, setTakeAway] = useState(false);
  const [reason, setReason] = useState('');
  const [tried, setTried] = useState(false);
  const { characteristic, can, position, value: was } = chosen;
  const value = takeAway ? null : readCell(text);
  const unreadable = !takeAway && (value === 'unreadable' || value === null);
  const noReason = reason.trim().length < 3;
  const asking = correct.error instanceof ProblemError && correct.error.problem.code === 'implausible-reading' ? correct.error.problem.errors ?? [] : null;
  const send = (confirmed: boolean) => {
    setTried(true);
    if (noReason || unreadable || value === 'unreadable') return;
    correct.mutate({ characteristic: characteristic.code, can, position, value, was, reason: reason.trim(), confirmed }, { onSuccess: ({ notRecomputed }) => onStored(notRecomputed.map((entry) => entry.characteristic)) });
  };
  return (
    <Modal opened onClose={onClose} title={t('correction.title')} size="lg" closeButtonProps={{ 'aria-label': t('correction.cancel') }}>
      <form noValidate onSubmit={(event) => { event.preventDefault(); send(false); }}>
        <Stack gap="md">
          <div><Text fw={600}>{chosen.name}</Text><Text>{t('correction.now', { value: was === null ? t('check.missing') : format.withUnit(was, characteristic.decimals, characteristic.unit) })}</Text></div>
          <TextInput size="md" data-autofocus label={t('correction.value', characteristic)} inputMode="decimal" autoComplete="off" value={text} disabled={takeAway} error={tried && unreadable ? t('correction.unreadable') : null} onChange={(event) => setText(event.currentTarget.value)} />
          {was === null ? null : <Checkbox size="md" label={t('correction.takeAway')} checked={takeAway} onChange={(event) => setTakeAway(event.currentTarget.checked)} />}
          <Textarea size="md" label={t('correction.reason')} description={t('correction.reasonHelp')} autosize minRows={2} maxLength={1000} value={reason} error={tried && noReason ? t('correction.needsReason') : null} onChange={(event) => setReason(event.currentTarget.value)} />
          {asking ? (
            <Alert color="gray" title={t('question.title')} role="alert">
              <List>{asking.map((entry) => <List.Item key={entry.expected}>{entry.expected}</List.Item>)}</List>
              <Button mt="sm" variant="default" loading={correct.isPending} onClick={() => send(true)}>{t('correction.asMeasured')}</Button>
            </Alert>
          ) : <ProblemList error={correct.error} />}
          <Group><Button type="submit" loading={correct.isPending}>{t('correction.save')}</Button><Button variant="default" onClick={onClose}>{t('correction.cancel')}</Button></Group>
        </Stack>
      </form>
    </Modal>
  );
}

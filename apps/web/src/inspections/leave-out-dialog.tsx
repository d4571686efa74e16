import { Button, Group, Modal, SegmentedControl, Stack, Text, TextInput } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';

const USUAL = ['damaged', 'none-left', 'gauge', 'impossible'] as const;
const SHORTEST = 3;

/** Why a cell or a whole can has no reading. One touch for the usual reasons. */
export function LeaveOutDialog({ cell, can, onClose, onLeaveOut }: { cell: string; can: string; onClose: () => void; onLeaveOut: (what: 'cell' | 'can', reason: string) => void }) {
  const { t } = useTranslation('entry');
  const [what, setWhat] = useState<'cell' | 'can'>('cell');
  const [own, setOwn] = useState('');
  const [tried, setTried] = useState(false);
  const sendOwn = () => { setTried(true); if (own.trim().length >= SHORTEST) onLeaveOut(what, own.trim()); };
  return (
    <Modal opened onClose={onClose} title={t('leaveOut.title')} closeButtonProps={{ 'aria-label': t('leaveOut.close'), size: 44 }}>
      <Stack>
        <SegmentedControl size="md" aria-label={t('leaveOut.what')} value={what} onChange={(value) => setWhat(value === 'can' ? 'can' : 'cell')} data={[{ value: 'cell', label: t('leaveOut.cell') }, { value: 'can', label: t('leaveOut.can') }]} />
        <Text>{what === 'can' ? can : cell}</Text>
        <Stack gap="xs">{USUAL.map((reason) => <Button key={reason} size="lg" variant="default" justify="flex-start" onClick={() => onLeaveOut(what, t(`leaveOut.reasons.${reason}`))}>{t(`leaveOut.reasons.${reason}`)}</Button>)}</Stack>
        <Group align="flex-end" wrap="nowrap">
          <TextInput size="md" flex={1} label={t('leaveOut.own')} maxLength={500} value={own} error={tried && own.trim().length < SHORTEST ? t('leaveOut.short', { count: SHORTEST }) : null} onChange={(event) => setOwn(event.currentTarget.value)} onKeyDown={(event) => { if (event.key === 'Enter') { event.preventDefault(); sendOwn(); } }} />
          <Button size="md" onClick={sendOwn}>{t('leaveOut.go')}</Button>
        </Group>
      </Stack>
    </Modal>
  );
}

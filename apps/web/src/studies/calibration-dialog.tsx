import { Button, Group, Modal, NativeSelect, Stack, Text, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { calibrationResult } from '#contract/gauge-calibrations';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useRecordCalibration } from './study-records.queries.js';

export function CalibrationDialog({ gauge: { id, code }, onClose }: { gauge: { id: number; code: string }; onClose: () => void }) {
  const { t } = useTranslation('studyRecords');
  const format = useFormat();
  const act = useRecordCalibration(id);
  const [form, setForm] = useState({ at: format.toInput(new Date().toISOString()), result: 'passed', certificate: '', by: '', due: '', note: '' });
  const set = (change: Partial<typeof form>) => setForm((now) => ({ ...now, ...change }));
  const [calibratedAt, dueAt] = [format.fromInput(form.at), form.due === '' ? null : format.fromInput(form.due)];
  const failed = form.result === 'failed';
  const ready = calibratedAt !== null && (failed || dueAt !== null) && form.certificate.trim() !== '' && form.by.trim() !== '';
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (ready) act.mutate({ calibratedAt, result: calibrationResult.parse(form.result), certificate: form.certificate, calibratedBy: form.by, dueAt: failed ? null : dueAt, note: form.note }, { onSuccess: onClose });
  };
  return (
    <Modal opened onClose={onClose} title={t('gaugesPage.form', { code })} closeButtonProps={{ 'aria-label': t('gaugesPage.close') }}>
      <form onSubmit={submit}>
        <Stack gap="sm">
          <Text size="sm">{t('gaugesPage.zone', { zone: format.timeZone })}</Text>
          <TextInput size="md" type="datetime-local" required label={t('gaugesPage.at')} value={form.at} onChange={({ currentTarget: { value } }) => set({ at: value })} />
          <NativeSelect size="md" label={t('gaugesPage.result')} value={form.result} data={calibrationResult.options.map((value) => ({ value, label: t(`gaugesPage.results.${value}`) }))} onChange={({ currentTarget: { value } }) => set({ result: value })} />
          <TextInput size="md" required maxLength={200} label={t('gaugesPage.certificate')} value={form.certificate} onChange={({ currentTarget: { value } }) => set({ certificate: value })} />
          <TextInput size="md" required maxLength={200} label={t('gaugesPage.by')} value={form.by} onChange={({ currentTarget: { value } }) => set({ by: value })} />
          {failed ? <Text fw={600}>{t('gaugesPage.failedHint')}</Text> : <TextInput size="md" type="datetime-local" required label={t('gaugesPage.dueAt')} value={form.due} onChange={({ currentTarget: { value } }) => set({ due: value })} />}
          <Textarea size="md" autosize minRows={2} maxLength={2000} label={t('gaugesPage.note')} value={form.note} onChange={({ currentTarget: { value } }) => set({ note: value })} />
          <ProblemList error={act.error} />
          <Group gap="sm"><Button type="submit" size="md" loading={act.isPending} disabled={!ready}>{t('gaugesPage.do')}</Button><Button size="md" variant="default" onClick={onClose}>{t('gaugesPage.cancel')}</Button></Group>
        </Stack>
      </form>
    </Modal>
  );
}

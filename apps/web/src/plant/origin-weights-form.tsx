import { Button, Group, Modal, NativeSelect, NumberInput, Stack, Text, TextInput } from '@mantine/core';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { stepKinds } from '#canmaking/line/steps';
import type { DefectEntry } from '#contract/knowledge';
import { originWeight, type OriginWeightsVersion, writeOriginWeights } from '#contract/origin-weights';
import { useFormat } from '../shared/format.js';
import { call } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { useStepWord } from '../shared/step-word.js';

type Row = { key: number; step: string; units: string; percent: number | '' };
const units = originWeight.shape.units.options;

/** The next version: the shares that hold now, to be changed row by row. Starts from the trade's where the plant has none. */
export function OriginWeightsForm({ defect, newest, onClose }: { defect: DefectEntry; newest: OriginWeightsVersion | null; onClose: () => void }) {
  const { t } = useTranslation('originWeights');
  const format = useFormat();
  const stepWord = useStepWord();
  const client = useQueryClient();
  const own = newest !== null && newest.origins.length > 0;
  const [rows, setRows] = useState<Row[]>(() => (own ? newest.origins : defect.origins).map(({ step, units: part, weight }, key) => ({ key, step, units: part, percent: Math.round(weight * 1000) / 10 })));
  const [reason, setReason] = useState('');
  const sum = rows.reduce((total, { percent }) => total + (percent === '' ? 0 : percent), 0);
  const write = useMutation({
    mutationFn: (isTakenBack: boolean) => call(writeOriginWeights, { body: { defect: defect.code, origins: isTakenBack ? [] : rows.map(({ step, units: part, percent }) => originWeight.parse({ step, units: part, weight: (percent === '' ? 0 : percent) / 100 })), reason, after: newest?.version ?? 0 } }),
    onSuccess: async () => { await client.invalidateQueries({ queryKey: ['origin-weights'] }); onClose(); },
  });
  const change = (key: number, next: Partial<Row>) => setRows(rows.map((row) => (row.key === key ? { ...row, ...next } : row)));
  return (
    <Modal opened onClose={onClose} size="xl" title={t('form.title', { name: defect.name })} closeButtonProps={{ 'aria-label': t('form.cancel') }}>
      <form onSubmit={(event: FormEvent) => { event.preventDefault(); write.mutate(false); }}>
        <Stack>
          {rows.map((row, index) => (
            <Group key={row.key} align="flex-end">
              <NativeSelect size="md" flex={1} miw={160} label={t('form.step', { row: index + 1 })} value={row.step} onChange={({ currentTarget: { value } }) => change(row.key, { step: value })} data={stepKinds.map((kind) => ({ value: kind, label: stepWord(kind) }))} />
              <NativeSelect size="md" flex={1} miw={180} label={t('form.part', { row: index + 1 })} value={row.units} onChange={({ currentTarget: { value } }) => change(row.key, { units: value })} data={units.map((unit) => ({ value: unit, label: t(`parts.${unit}`) }))} />
              <NumberInput size="md" w={150} required hideControls min={0} max={100} label={t('form.percent', { row: index + 1 })} value={row.percent} onChange={(next) => change(row.key, { percent: next === '' ? '' : Number(next) })} />
              <Button size="md" variant="default" aria-label={t('form.remove', { row: index + 1 })} onClick={() => setRows(rows.filter(({ key }) => key !== row.key))}>{t('form.removeShort')}</Button>
            </Group>
          ))}
          <Group><Button variant="default" size="md" onClick={() => setRows([...rows, { key: Math.max(-1, ...rows.map(({ key }) => key)) + 1, step: 'body-maker', units: 'machine', percent: '' }])}>{t('form.add')}</Button><Text role="status" fw={Math.abs(sum - 100) < 0.5 ? undefined : 600}>{t('form.sum', { percent: format.number(sum, 1) })}</Text></Group>
          <TextInput size="md" required label={t('form.reason')} description={t('form.reasonHint')} value={reason} onChange={({ currentTarget: { value } }) => setReason(value)} />
          {write.isError ? <ProblemList error={write.error} /> : null}
          <Group>
            <Button size="md" type="submit" loading={write.isPending}>{t('form.save')}</Button>
            {own ? <Button size="md" variant="default" loading={write.isPending} onClick={() => write.mutate(true)}>{t('form.takeBack')}</Button> : null}
            <Button size="md" variant="default" onClick={onClose}>{t('form.cancel')}</Button>
          </Group>
        </Stack>
      </form>
    </Modal>
  );
}

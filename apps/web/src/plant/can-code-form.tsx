import { Button, Checkbox, Code, Group, NativeSelect, Paper, Radio, SimpleGrid, Stack, Text, TextInput } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { CodeMeaning } from '#contract/can-codes';
import type { PlantTree } from '#contract/plant';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useStepWord } from '../shared/step-word.js';
import { FieldList } from './can-code-fields.js';
import { type Tried, useSavePattern, useTryPattern } from './can-codes.queries.js';

const keyOf = ({ from, until, laneId, machineId, unitId }: CodeMeaning) => JSON.stringify([from, until, laneId, machineId, unitId]);

/** A pattern is tried on a real code, and saved only with the meaning that the person saw and ticked. */
export function CanCodeForm({ lines, onClose }: { lines: PlantTree['lines']; onClose: () => void }) {
  const { t } = useTranslation('plant');
  const format = useFormat();
  const stepWord = useStepWord();
  const [draft, setDraft] = useState(() => ({ lineId: String(lines[0]?.id ?? ''), stepId: '', pattern: '{line} {year:2}{day-of-year} {hour}{minute}', example: '', reason: '', clock: '2', from: format.toInput(new Date().toISOString()) }));
  const [seen, setSeen] = useState('');
  const save = useSavePattern();
  const set = (change: Partial<typeof draft>) => { setSeen(''); save.reset(); setDraft((before) => ({ ...before, ...change })); };
  const line = lines.find(({ id }) => String(id) === draft.lineId);
  const step = line?.steps.find(({ id }) => String(id) === draft.stepId) ?? line?.steps.find(({ kind }) => kind === 'seamer') ?? line?.steps[0];
  const clockMinutes = Number(draft.clock.replace(',', '.'));
  const clockFits = draft.clock.trim() !== '' && clockMinutes >= 0 && clockMinutes <= 1440;
  const asked: Tried | null = line && step && draft.pattern.trim() !== '' ? { lineId: line.id, codedAtStepId: step.id, pattern: draft.pattern, example: draft.example, clockMinutes: clockFits ? clockMinutes : 2 } : null;
  const [settled] = useDebouncedValue(asked, 300);
  const tried = useTryPattern(settled);
  const current = JSON.stringify(settled) === JSON.stringify(asked) && !tried.isPlaceholderData ? tried.data : undefined;
  const meaning = current?.meanings.find((one) => keyOf(one) === seen);
  const effectiveFrom = format.fromInput(draft.from);
  const words = (one: CodeMeaning) => t('setUp.canCode.meaning', { where: [one.line, one.machine, one.unit, one.lane].filter(Boolean).join(' '), from: format.dateTime(one.from), until: format.dateTime(one.until) });
  const send = () => {
    if (!asked || !meaning || effectiveFrom === null) return;
    const { from, until, laneId, machineId, unitId } = meaning;
    save.mutate({ lineId: asked.lineId, codedAtStepId: asked.codedAtStepId, pattern: draft.pattern, example: draft.example, reason: draft.reason, clockMinutes, effectiveFrom, confirmed: { from, until, laneId, machineId, unitId } }, { onSuccess: onClose });
  };
  const text = (name: 'pattern' | 'example' | 'clock' | 'from', label: string, more: { description?: string; type?: string; error?: string | undefined } = {}) => <TextInput size="md" required label={label} inputWrapperOrder={['label', 'input', 'description', 'error']} value={draft[name]} onChange={({ currentTarget: { value } }) => set({ [name]: value })} {...more} />;
  return (
    <Paper withBorder p="md" component="section" aria-label={t('setUp.canCode.add')}>
      <Stack gap="sm">
        <SimpleGrid cols={{ base: 1, sm: 2 }}>
          <NativeSelect size="md" label={t('setUp.canCode.line')} value={draft.lineId} data={lines.map(({ id, code, name }) => ({ value: String(id), label: t('setUp.line.heading', { code, name }) }))} onChange={({ currentTarget: { value } }) => set({ lineId: value, stepId: '' })} />
          <NativeSelect size="md" label={t('setUp.canCode.codedAt')} value={String(step?.id ?? '')} data={(line?.steps ?? []).map(({ id, kind }) => ({ value: String(id), label: stepWord(kind) }))} onChange={({ currentTarget: { value } }) => set({ stepId: value })} />
          {text('pattern', t('setUp.canCode.pattern'), { error: current?.fault ? t('setUp.canCode.fault', current.fault) : undefined })}
          {text('example', t('setUp.canCode.example'), { description: t('setUp.canCode.exampleHint') })}
          {text('clock', t('setUp.canCode.clock'), { description: t('setUp.canCode.clockHint'), error: clockFits ? undefined : t('setUp.canCode.clockBad') })}
          {text('from', t('setUp.canCode.from'), { type: 'datetime-local', description: format.timeZone })}
          <TextInput size="md" label={t('setUp.canCode.why')} description={t('setUp.canCode.whyHint')} inputWrapperOrder={['label', 'input', 'description', 'error']} maxLength={2000} value={draft.reason} onChange={({ currentTarget: { value } }) => setDraft((before) => ({ ...before, reason: value }))} />
        </SimpleGrid>
        <FieldList />
        <Stack gap={4} aria-live="polite">
          <ProblemList error={tried.error} />
          {current && current.printed.length > 0 ? <Text>{t('setUp.canCode.printed')} {current.printed.map((code) => <Code key={code} mr={8}>{code}</Code>)}</Text> : null}
          {current && draft.example.trim() !== '' && !current.fault ? (
            current.meanings.length === 0 ? current.refusals.map((refusal) => <Text key={refusal.kind} fw={600}>{refusal.kind === 'does-not-fit' ? t('setUp.canCode.misfit', { position: refusal.position, expected: refusal.expected }) : t(`setUp.canCode.refusal.${refusal.kind}`, { named: refusal.named })}</Text>)
              : current.meanings.length === 1 ? current.meanings.map((one) => <Checkbox key={keyOf(one)} size="md" checked={seen === keyOf(one)} onChange={({ currentTarget: { checked } }) => setSeen(checked ? keyOf(one) : '')} label={t('setUp.canCode.right', { meaning: words(one) })} />)
                : <Radio.Group label={t('setUp.canCode.several')} value={seen} onChange={setSeen}><Stack gap={4} pt={4}>{current.meanings.map((one) => <Radio key={keyOf(one)} value={keyOf(one)} label={words(one)} />)}</Stack></Radio.Group>
          ) : null}
        </Stack>
        <ProblemList error={save.error} />
        <Group><Button disabled={!meaning || effectiveFrom === null || !clockFits} loading={save.isPending} onClick={send}>{t('setUp.save')}</Button><Button variant="default" onClick={onClose}>{t('setUp.cancel')}</Button></Group>
      </Stack>
    </Paper>
  );
}

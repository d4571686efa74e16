import { Button, Group, Paper, Stack, Text, Textarea, TextInput, Title } from '@mantine/core';
import { type Dispatch, type SetStateAction, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { type ChartView, leastBaseline } from '#contract/specifications';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { Excluding } from './freeze-excluding.js';
import { baselineOf, type FreezeDraft, withTime } from './freeze-draft.js';
import { PreviewResult } from './freeze-preview.js';
import { useFreeze, usePreview } from './specifications.queries.js';

/** Baseline, preview, exclusions with reasons, reason, save. What was typed stays when the server refuses. */
export function FreezePanel({ view, draft, onDraft, selected, onDone, onCancel }: {
  view: ChartView; draft: FreezeDraft; onDraft: Dispatch<SetStateAction<FreezeDraft>>; selected: number | null; onDone: (text: string) => void; onCancel: () => void;
}) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  const [reason, setReason] = useState('');
  const [previewed, setPreviewed] = useState<FreezeDraft | null>(null);
  const preview = usePreview(view.stream.id);
  const freeze = useFreeze(view.stream.id);
  const baseline = baselineOf(draft);
  const isCurrent = previewed === draft && preview.isSuccess;
  const time = (name: 'from' | 'to') => (
    <TextInput key={`${name}/${draft[name] ?? ''}`} type="datetime-local" step={1} size="md" label={t(`freeze.${name}`)} defaultValue={draft[name] === null ? '' : format.wall(draft[name])}
      onBlur={({ currentTarget: { value } }) => { const moment = format.fromInput(value); if (moment !== null && (draft[name] === null || format.wall(draft[name]).slice(0, value.length) !== value)) onDraft((before) => withTime(before, { [name]: moment })); }} />
  );
  const look = () => { if (baseline) { setPreviewed(draft); preview.mutate(baseline); } };
  const save = () => {
    if (baseline) freeze.mutate({ ...baseline, reason }, { onSuccess: ({ judged, raised }) => onDone(t('freeze.done', { judged, raised })) });
  };
  return (
    <Paper withBorder p="md" component="section" className="no-print">
      <Stack gap="sm">
        <Title order={2} size="h4">{t('freeze.title')}</Title>
        <Text>{t('freeze.intro', { count: leastBaseline })}</Text>
        <Text role="status" fw={600}>{draft.from === null ? t('freeze.pickFrom') : draft.to === null ? t('freeze.pickTo') : null}</Text>
        <Group gap="sm" align="flex-end">
          {time('from')}{time('to')}
          <Button size="md" variant="default" disabled={!baseline} loading={preview.isPending} onClick={look}>{t('freeze.preview')}</Button>
          <Button size="md" variant="default" onClick={onCancel}>{t('freeze.cancel')}</Button>
        </Group>
        {draft.from !== null && draft.to !== null && !baseline ? <Text role="alert">{t('freeze.order')}</Text> : null}
        <ProblemList error={preview.error} />
        {preview.data ? <PreviewResult preview={preview.data} stream={view.stream} isStale={!isCurrent} /> : null}
        {baseline ? <Excluding view={view} draft={draft} firings={preview.data?.firings ?? []} selected={selected} onDraft={onDraft} /> : null}
        {preview.data ? (
          <>
            <Textarea size="md" label={t('freeze.reason')} value={reason} onChange={({ currentTarget: { value } }) => setReason(value)} autosize minRows={2} required />
            <Text size="sm" c="dimmed">{t('freeze.caution')}</Text>
            <ProblemList error={freeze.error} />
            <Group><Button size="md" disabled={!isCurrent || reason.trim().length < 3} loading={freeze.isPending} onClick={save}>{t('freeze.save')}</Button></Group>
          </>
        ) : null}
      </Stack>
    </Paper>
  );
}

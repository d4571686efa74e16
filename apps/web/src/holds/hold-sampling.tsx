import { Button, Group, SimpleGrid, Stack, Text, Textarea, TextInput, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { Hold } from '#contract/holds';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useSampleHold, useSampleSize } from './holds.queries.js';

const empty = { share: '1', risk: '5', lot: '', what: '', examined: '', found: '', comment: '' };
const numberOf = (text: string) => (/^\d+([.,]\d+)?$/.test(text.trim()) ? Number(text.trim().replace(',', '.')) : Number.NaN);
const wholeOf = (text: string) => (/^\d{1,9}$/.test(text.trim()) ? Number(text) : Number.NaN);
const isShare = (value: number) => value > 0 && value < 1;

/** How many cans would show what, and what was found on them. */
export function HoldSampling({ hold }: { hold: Hold }) {
  const { t } = useTranslation('holds');
  const format = useFormat();
  const [draft, setDraft] = useState(empty);
  const record = useSampleHold(hold.id);
  const [share, risk, lot] = [numberOf(draft.share) / 100, numberOf(draft.risk) / 100, draft.lot.trim() === '' ? null : wholeOf(draft.lot)];
  const plannable = isShare(share) && isShare(risk) && (lot === null || lot >= 1);
  const size = useSampleSize(plannable ? { share, risk, ...(lot === null ? {} : { lotCans: lot }) } : null);
  const [examined, found] = [wholeOf(draft.examined), wholeOf(draft.found)];
  const ready = plannable && examined >= 1 && found >= 0 && found <= examined && draft.what.trim().length >= 3;
  const started = draft.examined !== '' || draft.found !== '';
  const field = (name: keyof typeof empty, label: string, description?: string) => <TextInput size="md" inputMode="decimal" label={label} description={description} inputWrapperOrder={['label', 'input', 'description', 'error']} value={draft[name]} onChange={({ currentTarget: { value } }) => setDraft((before) => ({ ...before, [name]: value }))} />;
  return (
    <section>
      <Title order={2} size="h4">{t('sample.title')}</Title>
      <Stack gap="sm" maw={820}>
        <Text>{t('sample.text')}</Text>
        <SimpleGrid cols={{ base: 1, sm: 3 }}>{field('share', t('sample.share'))}{field('risk', t('sample.risk'))}{field('lot', t('sample.lot'), t('sample.lotHint'))}</SimpleGrid>
        {plannable && size.data ? <Text fw={600} role="status">{t('sample.need', { n: format.number(size.data.n, 0), share: draft.share, risk: draft.risk })}</Text> : null}
        <ProblemList error={plannable ? size.error : null} />
        <Textarea size="md" label={t('sample.what')} description={t('sample.whatHint')} autosize minRows={1} maxLength={4000} value={draft.what} onChange={({ currentTarget: { value } }) => setDraft((before) => ({ ...before, what: value }))} />
        <SimpleGrid cols={{ base: 1, sm: 3 }}>{field('examined', t('sample.examined'))}{field('found', t('sample.found'))}{field('comment', t('sample.comment'))}</SimpleGrid>
        {started && !ready ? <Text size="sm">{t('sample.bad')}</Text> : null}
        <ProblemList error={record.error} />
        <Group><Button size="md" variant="default" disabled={!ready} loading={record.isPending} onClick={() => record.mutate({ revision: hold.revision, what: draft.what, lotCans: lot, share, risk, examined, found, comment: draft.comment }, { onSuccess: () => setDraft(empty) })}>{t('sample.record')}</Button></Group>
      </Stack>
    </section>
  );
}

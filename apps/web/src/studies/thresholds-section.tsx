import { Button, Group, NumberInput, SimpleGrid, Stack, Text, TextInput, Title } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { StudyThresholds } from '#contract/gauge-studies';
import { closers } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { QueryView } from '../shared/states.js';
import { useChangeThresholds, useThresholds } from './study-records.queries.js';

/** Without the last bits: 100 × 0.07 is 7.000000000000001. */
const percentOf = (share: number) => Number((100 * share).toPrecision(12));

/** From which figures the plant calls a gauge acceptable, and who said so. */
export function ThresholdsSection() {
  const { t } = useTranslation('studyRecords');
  const format = useFormat();
  const query = useThresholds();
  const mayChange = useMay(closers);
  const [open, setOpen] = useState(false);
  const percent = (share: number) => format.number(100 * share, 1);
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('gaugesPage.thresholds')}</Title>
      <QueryView query={query} what={t('gaugesPage.loadingThresholds')}>{(given) => (
        <Stack gap="xs">
          <Text>{t('gaugesPage.thresholdsText', { accept: percent(given.gaugeAccept), reject: percent(given.gaugeReject), categories: given.categories, kappaAccept: given.kappaAccept, kappaReject: given.kappaReject })}</Text>
          <Text size="sm">{t('gaugesPage.source', { source: given.source })}</Text>
          <Text size="sm">{given.setBy && given.setAt ? t('gaugesPage.setBy', { name: given.setBy, at: format.dateTime(given.setAt), reason: given.reason ?? '' }) : t('gaugesPage.usual')}</Text>
          {open ? <ThresholdsForm given={given} onClose={() => setOpen(false)} /> : mayChange ? <Button size="md" variant="default" w="max-content" onClick={() => setOpen(true)}>{t('gaugesPage.change')}</Button> : null}
        </Stack>
      )}</QueryView>
    </section>
  );
}

function ThresholdsForm({ given, onClose }: { given: StudyThresholds; onClose: () => void }) {
  const { t } = useTranslation('studyRecords');
  const act = useChangeThresholds();
  const [form, setForm] = useState({ accept: percentOf(given.gaugeAccept), reject: percentOf(given.gaugeReject), categories: given.categories, kappaAccept: given.kappaAccept, kappaReject: given.kappaReject, source: given.source, reason: '' });
  const set = (change: Partial<typeof form>) => setForm((now) => ({ ...now, ...change }));
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const { accept, reject, ...rest } = form;
    act.mutate({ ...rest, gaugeAccept: accept / 100, gaugeReject: reject / 100 }, { onSuccess: onClose });
  };
  return (
    <form onSubmit={submit}>
      <Stack gap="sm" maw={720}>
        <SimpleGrid cols={{ base: 1, sm: 3 }}>
          {(['accept', 'reject', 'categories', 'kappaAccept', 'kappaReject'] as const).map((name) => <NumberInput key={name} size="md" required label={t(`gaugesPage.${name}`)} value={form[name]} onChange={(value) => set({ [name]: Number(value) })} />)}
        </SimpleGrid>
        <TextInput size="md" required maxLength={200} label={t('gaugesPage.sourceField')} value={form.source} onChange={({ currentTarget: { value } }) => set({ source: value })} />
        <TextInput size="md" required maxLength={500} label={t('gaugesPage.reason')} value={form.reason} onChange={({ currentTarget: { value } }) => set({ reason: value })} />
        <ProblemList error={act.error} />
        <Group gap="sm"><Button type="submit" size="md" loading={act.isPending} disabled={form.reason.trim().length < 3}>{t('gaugesPage.do')}</Button><Button size="md" variant="default" onClick={onClose}>{t('gaugesPage.cancel')}</Button></Group>
      </Stack>
    </form>
  );
}

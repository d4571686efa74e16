import { Button, Group, Modal, NativeSelect, SimpleGrid, Stack, Text, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { FeedTopicView } from '#contract/monitors';
import type { PlantTree } from '#contract/plant';
import { ProblemList } from '../shared/problem-list.js';
import { useSaveTopic } from './monitors.queries.js';
import { bodyOf, type ChannelFault, draftOf, emptyDraft, readChannels, type TopicDraft } from './topic-draft.js';

const KINDS = ['readings', 'counts', 'line-event'] as const;
const FORMATS = ['iso', 'seconds', 'milliseconds'] as const;
const POLICIES = ['quarantine', 'server-time'] as const;
const OF_KIND = { readings: ['count', 'each', 'product', 'size', 'every'], counts: ['minutes', 'good', 'rejected'], 'line-event': ['event', 'words', 'key'] } as const;

/** What the messages of one topic filter mean, in a dialog. */
export function TopicForm({ feedId, topic, tree, onClose }: { feedId: number; topic: FeedTopicView | null; tree: PlantTree; onClose: () => void }) {
  const { t } = useTranslation('monitors');
  const save = useSaveTopic(feedId);
  const [draft, setDraft] = useState<TopicDraft>(() => (topic ? draftOf(topic, tree) : emptyDraft()));
  const [faults, setFaults] = useState<ChannelFault[]>([]);
  const set = (name: keyof TopicDraft) => ({ currentTarget: { value } }: { currentTarget: { value: string } }) => setDraft((old) => ({ ...old, [name]: value }));
  const labels = { count: t('topic.count'), each: t('topic.each'), product: t('topic.productPointer'), size: t('topic.size'), every: t('topic.every'), minutes: t('topic.minutes'), good: t('topic.good'), rejected: t('topic.rejected'), event: t('topic.event'), words: t('topic.words'), key: t('topic.key') };
  const hints: Partial<Record<keyof typeof labels, string>> = { each: t('topic.eachHint'), every: t('topic.everyHint'), key: t('topic.keyHint') };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const read = readChannels(draft.kind === 'readings' ? draft.channels : '', tree, Number(draft.machineId));
    setFaults(read.faults);
    if (read.faults.length === 0) save.mutate({ topicId: topic?.id, body: bodyOf(draft, read.channels) }, { onSuccess: onClose });
  };
  const machines = tree.lines.flatMap((line) => line.steps.flatMap((step) => step.machines.map(({ id, code, name }) => ({ value: String(id), label: `${line.code} ${code}, ${name}` }))));
  const products = tree.products.map(({ id, code, name }) => ({ value: String(id), label: `${code}, ${name}` }));
  return (
    <Modal opened onClose={onClose} title={topic ? t('changeOf', { name: topic.filter }) : t('addTopic')} size="xl" closeButtonProps={{ 'aria-label': t('cancel') }}>
      <form onSubmit={submit}>
        <Stack>
          <SimpleGrid cols={{ base: 1, sm: 2 }} style={{ alignItems: 'end' }}>
            <TextInput size="md" label={t('topics.filter')} description={t('topic.filterHint')} required value={draft.filter} onChange={set('filter')} />
            <NativeSelect size="md" label={t('topic.kind')} value={draft.kind} data={KINDS.map((value) => ({ value, label: t(`topic.kinds.${value}`) }))} onChange={set('kind')} />
            <NativeSelect size="md" label={t('topics.machine')} required value={draft.machineId} data={[{ value: '', label: '' }, ...machines]} onChange={set('machineId')} />
            <NativeSelect size="md" label={t('topics.product')} description={t('topic.productHint')} value={draft.productId} data={[{ value: '', label: '' }, ...products]} onChange={set('productId')} />
            <TextInput size="md" label={t('topic.time')} description={t('topic.timeHint')} value={draft.time} onChange={set('time')} />
            <NativeSelect size="md" label={t('topic.format')} value={draft.format} data={FORMATS.map((value) => ({ value, label: t(`topic.formats.${value}`) }))} onChange={set('format')} />
            {OF_KIND[draft.kind].map((name) => <TextInput key={name} size="md" label={labels[name]} description={hints[name]} value={draft[name]} onChange={set(name)} />)}
          </SimpleGrid>
          {draft.kind === 'readings' ? <Textarea size="md" label={t('topic.channels')} description={t('topic.channelsHint')} required autosize minRows={3} value={draft.channels} onChange={(event) => { setFaults([]); set('channels')(event); }} /> : null}
          {faults.length > 0 ? <div role="alert">{faults.map(({ line, fault, word }) => <Text key={`${line}${word}`}>{t('topic.badChannel', { line, what: fault === 'parts' ? t('topic.parts') : t('topic.unknown', { word }) })}</Text>)}</div> : null}
          <SimpleGrid cols={{ base: 1, sm: 3 }} style={{ alignItems: 'end' }}>
            <TextInput size="md" inputMode="decimal" label={t('topic.late')} value={draft.lateHours} onChange={set('lateHours')} />
            <TextInput size="md" inputMode="decimal" label={t('topic.ahead')} value={draft.clockSeconds} onChange={set('clockSeconds')} />
            <NativeSelect size="md" label={t('topic.policy')} value={draft.clockPolicy} data={POLICIES.map((value) => ({ value, label: t(`topic.policies.${value}`) }))} onChange={set('clockPolicy')} />
          </SimpleGrid>
          {save.isError ? <ProblemList error={save.error} /> : null}
          <Group><Button type="submit" size="md" loading={save.isPending}>{t('save')}</Button><Button variant="default" size="md" onClick={onClose}>{t('cancel')}</Button></Group>
        </Stack>
      </form>
    </Modal>
  );
}

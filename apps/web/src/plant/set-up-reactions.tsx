import { Button, Group, List, Modal, Select, Stack, Table, Text, Textarea, TextInput } from '@mantine/core';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { stepKinds } from '#canmaking/line/steps';
import type { PlantTree } from '#contract/plant';
import { listReactionPlans, type ReactionPlan, type ReactionScope, writeReactionPlan } from '#contract/reaction-plans';
import { listStreams } from '#contract/specifications';
import { useFormat } from '../shared/format.js';
import { CompareVersions } from '../shared/compare-versions.js';
import { call } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { useScopeWords } from '../shared/reaction-steps.js';
import { EmptyState, QueryView } from '../shared/states.js';
import { useStepWord } from '../shared/step-word.js';

/** What to do when a chart signals, as the plant wrote it: newest versions, each with the way to all of them and to a new one. */
export function ReactionsSection({ tree, mayChange }: { tree: PlantTree; mayChange: boolean }) {
  const { t } = useTranslation('floor');
  const query = useQuery({ queryKey: ['reaction-plans', 'history'], queryFn: ({ signal }) => call(listReactionPlans, { query: { history: 'true' }, signal }) });
  const [editing, setEditing] = useState<ReactionPlan | 'new' | null>(null);
  const [history, setHistory] = useState<ReactionPlan | null>(null);
  return (
    <Stack gap="md">
      {mayChange ? <Group><Button size="md" onClick={() => setEditing('new')}>{t('reaction.add')}</Button></Group> : null}
      <QueryView query={query} what={t('reaction.loading')} isEmpty={({ plans }) => plans.length === 0} empty={<EmptyState title={t('reaction.empty')} text={t('reaction.emptyText')} />}>{({ plans }) => (
        <>
          <PlanTable plans={newest(plans)} onEdit={mayChange ? setEditing : undefined} onHistory={setHistory} />
          {history ? <History versions={plans.filter(({ scope }) => same(scope, history.scope))} onClose={() => setHistory(null)} /> : null}
        </>
      )}</QueryView>
      {editing ? <Editor tree={tree} plan={editing === 'new' ? null : editing} onClose={() => setEditing(null)} /> : null}
    </Stack>
  );
}

const same = (a: ReactionScope, b: ReactionScope) => JSON.stringify(a) === JSON.stringify(b);
const newest = (plans: readonly ReactionPlan[]) => plans.filter((plan) => !plans.some((other) => same(other.scope, plan.scope) && other.version > plan.version));

function PlanTable({ plans, onEdit, onHistory }: { plans: readonly ReactionPlan[]; onEdit: ((plan: ReactionPlan) => void) | undefined; onHistory: (plan: ReactionPlan) => void }) {
  const { t } = useTranslation('floor');
  const format = useFormat();
  const words = useScopeWords();
  return (
    <Table.ScrollContainer minWidth={640}>
      <Table aria-label={t('reaction.title')}>
        <Table.Thead><Table.Tr>{(['scope', 'steps', 'version', 'who', 'when', 'change'] as const).map((head) => <Table.Th key={head} scope="col">{t(head === 'steps' ? 'reaction.title' : `reaction.${head}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>{plans.map((plan) => (
          <Table.Tr key={plan.id}>
            <Table.Th scope="row">{words(plan)}</Table.Th>
            <Table.Td>{plan.steps.length === 0 ? t('reaction.takenBack') : <List type="ordered" size="sm">{plan.steps.map((step) => <List.Item key={step}>{step}</List.Item>)}</List>}</Table.Td>
            <Table.Td>{plan.version}</Table.Td><Table.Td>{plan.author}</Table.Td><Table.Td>{format.dateTime(plan.at)}</Table.Td>
            <Table.Td><Group gap="xs">{onEdit ? <Button variant="default" onClick={() => onEdit(plan)} aria-label={t('reaction.edit', { scope: words(plan) })}>{t('reaction.change')}</Button> : null}<Button variant="subtle" onClick={() => onHistory(plan)} aria-label={t('reaction.history', { scope: words(plan) })}>{t('reaction.show')}</Button></Group></Table.Td>
          </Table.Tr>
        ))}</Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}

function History({ versions, onClose }: { versions: readonly ReactionPlan[]; onClose: () => void }) {
  const { t } = useTranslation('floor');
  const { t: portable } = useTranslation('portable');
  const format = useFormat();
  const words = useScopeWords();
  const [first] = versions;
  return (
    <Modal opened onClose={onClose} size="lg" title={first ? t('reaction.history', { scope: words(first) }) : t('reaction.title')} closeButtonProps={{ 'aria-label': t('reaction.cancel') }}>
      <Stack>{versions.map((plan) => (
        <div key={plan.id}>
          <Text fw={600}>{t('reaction.of', { scope: words(plan), version: plan.version })}</Text>
          <Text size="sm" c="dimmed">{t('reaction.by', { author: plan.author, at: format.dateTime(plan.at) })}: {plan.reason}</Text>
          {plan.steps.length === 0 ? <Text>{t('reaction.takenBack')}</Text> : <List type="ordered">{plan.steps.map((step) => <List.Item key={step}>{step}</List.Item>)}</List>}
        </div>
      ))}{versions.length < 2 ? null : <CompareVersions title={portable('compare.title')} versions={[...versions].sort((a, b) => b.version - a.version).map((plan) => ({ key: String(plan.version), label: portable('approval.version', { revision: plan.version }), author: plan.author, at: plan.at, reason: plan.reason, fields: { steps: plan.steps } }))} />}</Stack>
    </Modal>
  );
}

function Editor({ tree, plan, onClose }: { tree: PlantTree; plan: ReactionPlan | null; onClose: () => void }) {
  const { t } = useTranslation('floor');
  const words = useScopeWords();
  const stepWord = useStepWord();
  const client = useQueryClient();
  const streams = useQuery({ queryKey: ['streams', 'for-reactions'], queryFn: ({ signal }) => call(listStreams, { query: {}, signal }), enabled: plan === null });
  const [characteristic, setCharacteristic] = useState<string | null>(null);
  const [chosenStep, setChosenStep] = useState<string | null>(null);
  const [stream, setStream] = useState<string | null>(null);
  const [steps, setSteps] = useState(plan?.steps.join('\n') ?? '');
  const [reason, setReason] = useState('');
  const about = tree.characteristics.find(({ id }) => String(id) === characteristic);
  const stepKind = chosenStep ?? about?.stepKind ?? '';
  const scope: ReactionScope = plan?.scope ?? (stream === null ? { kind: 'step', characteristicId: about?.id ?? 0, stepKind } : { kind: 'stream', streamId: Number(stream) });
  const write = useMutation({
    mutationFn: () => call(writeReactionPlan, { body: { scope, steps: steps.split('\n').map((line) => line.trim()).filter((line) => line !== ''), reason, after: plan?.version ?? 0 } }),
    onSuccess: async () => { await client.invalidateQueries({ queryKey: ['reaction-plans'] }); onClose(); },
  });
  const charts = (streams.data?.streams ?? []).filter((entry) => entry.characteristic.id === about?.id && entry.machine.stepKind === stepKind);
  return (
    <Modal opened onClose={onClose} size="lg" title={plan ? t('reaction.edit', { scope: words(plan) }) : t('reaction.add')} closeButtonProps={{ 'aria-label': t('reaction.cancel') }}>
      <form onSubmit={(event) => { event.preventDefault(); write.mutate(); }}>
        <Stack>
          {plan ? null : (
            <>
              <Select size="md" required searchable label={t('reaction.characteristic')} value={characteristic} onChange={(next) => { setCharacteristic(next); setChosenStep(null); setStream(null); }} data={tree.characteristics.map(({ id, name }) => ({ value: String(id), label: name }))} />
              <Select size="md" required label={t('reaction.stepKind')} value={stepKind || null} onChange={(next) => { setChosenStep(next); setStream(null); }} data={stepKinds.map((kind) => ({ value: kind, label: stepWord(kind) }))} />
              <Select size="md" clearable searchable label={t('reaction.chart')} value={stream} onChange={setStream} data={charts.map((entry) => ({ value: String(entry.id), label: [entry.machine.code, entry.unit?.code, entry.lane?.code, entry.product.code].filter(Boolean).join(', ') }))} />
            </>
          )}
          <Textarea size="md" label={t('reaction.steps')} description={`${t('reaction.stepsHint')}${plan ? ` ${t('reaction.withoutSteps')}` : ''}`} autosize minRows={4} value={steps} onChange={(event) => setSteps(event.currentTarget.value)} />
          <TextInput size="md" required label={t('reaction.reason')} value={reason} onChange={(event) => setReason(event.currentTarget.value)} />
          {write.isError ? <ProblemList error={write.error} /> : null}
          <Group><Button size="md" type="submit" loading={write.isPending}>{t('reaction.save')}</Button><Button size="md" variant="default" onClick={onClose}>{t('reaction.cancel')}</Button></Group>
        </Stack>
      </form>
    </Modal>
  );
}

import { Button, NativeSelect, NumberInput, SimpleGrid, Stack, Text, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { useNavigate } from 'react-router';
import { gaugeDesign } from '#contract/gauge-studies';
import type { PlantTree } from '#contract/plant';
import { usePlant } from '../shared/plant.queries.js';
import { ProblemList } from '../shared/problem-list.js';
import { Page, QueryView } from '../shared/states.js';
import { linesOf, referencesOf, scaleOf, standardOf } from './gauge-plan.js';
import { type GaugePlanBody, usePlanGauge, useStudyRecords } from './study-records.queries.js';

export function GaugePlanPage() {
  const { t } = useTranslation('studyRecords');
  const plant = usePlant();
  return <Page title={t('plan.title')}><QueryView query={plant} what={t('plan.loading')}>{(tree) => <PlanForm tree={tree} />}</QueryView></Page>;
}

const START = { title: '', note: '', characteristic: '', gauge: '', product: '', people: '', parts: '', repeats: 2, scale: '', least: '', steps: 1, reject: '', standard: '', references: '', old: '' };

function PlanForm({ tree }: { tree: PlantTree }) {
  const { t } = useTranslation('studyRecords');
  const navigate = useNavigate();
  const act = usePlanGauge();
  const earlier = useStudyRecords({ kind: 'gauge' });
  const [design, setDesign] = useState<GaugePlanBody['design']>('crossed');
  const measured = tree.characteristics.filter(({ formula }) => formula === null);
  const [form, setForm] = useState({ ...START, characteristic: String(measured[0]?.id ?? '') });
  const set = (change: Partial<typeof START>) => setForm((now) => ({ ...now, ...change }));
  const rates = design === 'agreement';
  const [people, parts] = [linesOf(form.people), linesOf(form.parts)];
  const scale = rates ? scaleOf(form.scale, form) : null;
  const badLeast = scale?.kind === 'ordinal' && form.least.trim() !== '' && scale.least === null;
  const standard = rates ? standardOf(form.standard, scale, parts.length) : null;
  const isBias = design === 'bias';
  const references = isBias ? referencesOf(form.references, parts.length) : null;
  const leastPeople = isBias ? 1 : 2;
  const readings = parts.length * form.repeats * (design === 'nested' ? 1 : people.length);
  const number = (text: string) => (text === '' ? null : Number(text));
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (standard === 'wrong' || references === 'wrong' || badLeast) return;
    act.mutate({ title: form.title.trim(), note: form.note, design, characteristicId: Number(form.characteristic), gaugeId: number(form.gauge), productId: isBias ? null : number(form.product), people, parts, repeats: form.repeats, scale, standard, references, supersedesId: number(form.old) }, { onSuccess: ({ id }) => void navigate(`/studies/${id}/sheet`) });
  };
  const named = ({ id, code, name }: { id: number; code: string; name: string }) => ({ value: String(id), label: `${code} ${name}` });
  const same = (earlier.data?.studies ?? []).filter((study) => study.state !== 'superseded' && String(study.characteristic.id) === form.characteristic);
  return (
    <form onSubmit={submit}>
      <Stack gap="md" maw={900}>
        <Text>{t('plan.intro')}</Text>
        <TextInput size="md" required maxLength={200} label={t('plan.name')} value={form.title} onChange={({ currentTarget: { value } }) => set({ title: value })} />
        <NativeSelect size="md" label={t('plan.design')} description={t(`plan.designHints.${design}`)} value={design} data={gaugeDesign.options.map((value) => ({ value, label: t(`plan.designs.${value}`) }))} onChange={({ currentTarget: { value } }) => setDesign(gaugeDesign.parse(value))} />
        <SimpleGrid cols={{ base: 1, sm: 3 }}>
          <NativeSelect size="md" label={t('plan.characteristic')} value={form.characteristic} data={measured.map(({ id, name }) => ({ value: String(id), label: name }))} onChange={({ currentTarget: { value } }) => set({ characteristic: value, old: '' })} />
          <NativeSelect size="md" label={t('plan.gauge')} value={form.gauge} data={[{ value: '', label: t('plan.noGauge') }, ...tree.gauges.filter(({ retired }) => !retired).map(named)]} onChange={({ currentTarget: { value } }) => set({ gauge: value })} />
          {rates || isBias ? null : <NativeSelect size="md" label={t('plan.product')} value={form.product} data={[{ value: '', label: t('plan.noProduct') }, ...tree.products.filter(({ retired }) => !retired).map(named)]} onChange={({ currentTarget: { value } }) => set({ product: value })} />}
        </SimpleGrid>
        <SimpleGrid cols={{ base: 1, sm: 2 }}>
          <Textarea size="md" required autosize minRows={4} label={t('plan.people')} value={form.people} onChange={({ currentTarget: { value } }) => set({ people: value })} />
          <Textarea size="md" required autosize minRows={4} label={t(design === 'nested' ? 'plan.partsNested' : isBias ? 'plan.masters' : 'plan.parts')} value={form.parts} onChange={({ currentTarget: { value } }) => set({ parts: value })} />
        </SimpleGrid>
        <NumberInput size="md" w={260} required min={rates ? 1 : 2} max={isBias ? 50 : 10} allowDecimal={false} label={t(design === 'nested' ? 'plan.repeatsNested' : 'plan.repeats')} value={form.repeats} onChange={(value) => set({ repeats: Number(value) })} />
        {isBias ? <Textarea size="md" required autosize minRows={4} w={{ base: '100%', sm: 440 }} label={t('plan.references')} description={t('plan.referencesHint')} error={references === 'wrong' && form.references.trim() !== '' ? t('plan.badReferences') : undefined} value={form.references} onChange={({ currentTarget: { value } }) => set({ references: value })} /> : null}
        {rates ? (
          <SimpleGrid cols={{ base: 1, sm: 2 }}>
            <Textarea size="md" required autosize minRows={4} label={t('plan.scale')} description={t('plan.scaleHint')} value={form.scale} onChange={({ currentTarget: { value } }) => set({ scale: value })} />
            <Textarea size="md" autosize minRows={4} label={t('plan.standard')} error={standard === 'wrong' ? t('plan.badStandard') : undefined} value={form.standard} onChange={({ currentTarget: { value } }) => set({ standard: value })} />
            {scale?.kind === 'nominal' ? <Textarea size="md" autosize minRows={2} label={t('plan.reject')} value={form.reject} onChange={({ currentTarget: { value } }) => set({ reject: value })} /> : <><TextInput size="md" inputMode="decimal" label={t('plan.least')} error={badLeast ? t('sheet.badNumber') : undefined} value={form.least} onChange={({ currentTarget: { value } }) => set({ least: value })} /><NumberInput size="md" min={0} max={29} allowDecimal={false} label={t('plan.steps')} value={form.steps} onChange={(value) => set({ steps: Number(value) })} /></>}
          </SimpleGrid>
        ) : null}
        {same.length > 0 ? <NativeSelect size="md" label={t('plan.supersedes')} value={form.old} data={[{ value: '', label: t('plan.nothing') }, ...same.map(({ id, title }) => ({ value: String(id), label: `${id} ${title}` }))]} onChange={({ currentTarget: { value } }) => set({ old: value })} /> : null}
        <Textarea size="md" autosize minRows={2} maxLength={4000} label={t('plan.note')} value={form.note} onChange={({ currentTarget: { value } }) => set({ note: value })} />
        <Text role="status">{t('plan.count', { count: readings })} {t(isBias ? 'plan.usualBias' : 'plan.usual')}</Text>
        <ProblemList error={act.error} />
        <Button type="submit" size="md" w="max-content" loading={act.isPending} disabled={form.title.trim() === '' || people.length < leastPeople || parts.length < 2}>{t('plan.do')}</Button>
      </Stack>
    </form>
  );
}

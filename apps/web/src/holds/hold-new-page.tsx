import { Button, Group, NativeSelect, SimpleGrid, Stack, Text, Textarea, TextInput } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { useNavigate, useSearchParams } from 'react-router';
import type { PlantTree } from '#contract/plant';
import { useFormat } from '../shared/format.js';
import { usePlant } from '../shared/plant.queries.js';
import { ProblemList } from '../shared/problem-list.js';
import { Page, QueryView } from '../shared/states.js';
import { useStepWord } from '../shared/step-word.js';
import { ArithmeticView } from './hold-arithmetic.js';
import { bases, draftFromUrl, type HoldDraft, type HoldFault, readHoldDraft, writePallets } from './hold-draft.js';
import { holdWays, type Typed, withWays } from './hold-ways.js';
import { WayLines } from './hold-ways-lines.js';
import { useComputeHold, usePlaceHold } from './holds.queries.js';

export function HoldNewPage() {
  const { t } = useTranslation('holds');
  const plant = usePlant();
  return (
    <Page title={t('form.title')}>
      <Text fw={600} maw={900}>{t('caution')}</Text>
      <QueryView query={plant} what={t('loadingPlant')}>{({ lines }) => <HoldForm lines={lines} />}</QueryView>
    </Page>
  );
}

/** The span, its sums, its pallets. What is placed is what was computed and looked at: each change asks for it again. */
function HoldForm({ lines }: { lines: PlantTree['lines'] }) {
  const { t } = useTranslation('holds');
  const format = useFormat();
  const stepWord = useStepWord();
  const navigate = useNavigate();
  const [params] = useSearchParams();
  const [typed, setTyped] = useState<Typed>({ back: false, forward: false });
  const [draft, setDraft] = useState(() => withWays(draftFromUrl(params, format), lines, typed));
  const [asked, setAsked] = useState(false);
  const [compute, place] = [useComputeHold(), usePlaceHold()];
  const { body, faults } = readHoldDraft(draft, format);
  const line = lines.find(({ id }) => String(id) === draft.lineId);
  const step = line?.steps.find(({ id }) => String(id) === draft.stepId);
  const change = (next: Partial<HoldDraft>, kept: Typed = typed) => { compute.reset(); place.reset(); setTyped(kept); setDraft((before) => withWays({ ...before, ...next }, lines, kept)); };
  const ways = holdWays(line, draft);
  const field = (name: Exclude<keyof HoldDraft, 'basis'>, label: string, more: { type?: string; description?: string; inputMode?: 'decimal'; required?: boolean } = {}) => <TextInput size="md" label={label} value={draft[name]} onChange={({ currentTarget: { value } }) => change({ [name]: value }, { back: typed.back || name.startsWith('back'), forward: typed.forward || name.startsWith('forward') })} {...more} />;
  const words = (fault: HoldFault) => (typeof fault === 'string' ? t(`form.faults.${fault}`) : t('form.palletLine', { row: fault.palletLine }));
  const run = () => { setAsked(true); if (body) compute.mutate(body); };
  const fill = () => {
    setAsked(true);
    if (body) compute.mutate(body, { onSuccess: ({ computed }) => { 
      if (!computed || computed.pallets.length === 0) return;
      setDraft((before) => ({ ...before, pallets: writePallets(computed.pallets, format) }));
      // Once more with them: what is shown must be what is placed.
      compute.mutate({ ...body, pallets: computed.pallets });
    } });
  };
  const number = (name: string) => { const id = Number(params.get(name)); return Number.isInteger(id) && id > 0 ? id : null; };
  const [signalId, incidentId] = [number('signalId'), number('incidentId')];
  const send = (state: 'proposed' | 'placed') => {
    if (!body || !compute.data) return;
    const { figure: _figure, ...question } = body;
    place.mutate({ ...question, reason: draft.reason, state, signalId, incidentId, shownCans: compute.data.arithmetic.cans?.suspect ?? null }, { onSuccess: ({ id }) => void navigate(`/holds/${id}`) });
  };
  const zone = t('form.zone', { zone: format.timeZone });
  const machines = (line?.steps ?? []).filter((each) => !step || each.id === step.id).flatMap((each) => each.machines);
  const units = machines.filter(({ id }) => draft.machineId === '' || String(id) === draft.machineId).flatMap((machine) => machine.units.map((unit) => ({ value: String(unit.id), label: t('form.unitOption', { machine: machine.code, unit: unit.code }) })));
  return (
    <Stack gap="md" maw={1000}>
      {signalId ? <Text>{t('form.from_signal', { id: signalId })}</Text> : null}
      {incidentId ? <Text>{t('form.from_incident', { id: incidentId })}</Text> : null}
      <SimpleGrid cols={{ base: 1, sm: 2, md: 4 }}>
        <NativeSelect size="md" required label={t('form.line')} value={draft.lineId} data={[{ value: '', label: '–' }, ...lines.map(({ id, code, name }) => ({ value: String(id), label: t('form.option', { code, name }) }))]} onChange={({ currentTarget: { value } }) => change({ lineId: value, stepId: '', suspectStepId: '', machineId: '', unitId: '', laneId: '' })} />
        <NativeSelect size="md" label={t('form.step')} description={t('form.stepHint')} inputWrapperOrder={['label', 'input', 'description', 'error']} value={draft.stepId} data={[{ value: '', label: t('form.anyStep') }, ...(line?.steps ?? []).map(({ id, kind }) => ({ value: String(id), label: stepWord(kind) }))]} onChange={({ currentTarget: { value } }) => change({ stepId: value, machineId: '', unitId: '' })} />
        <NativeSelect size="md" label={t('form.suspectStep')} description={t('form.suspectStepHint')} inputWrapperOrder={['label', 'input', 'description', 'error']} value={draft.suspectStepId} data={[{ value: '', label: t('form.sameStep') }, ...(line?.steps ?? []).filter(({ position }) => step === undefined || position < step.position).map(({ id, kind }) => ({ value: String(id), label: stepWord(kind) }))]} onChange={({ currentTarget: { value } }) => change({ suspectStepId: value })} />
        <NativeSelect size="md" label={t('form.machine')} value={draft.machineId} data={[{ value: '', label: t('form.all') }, ...machines.map(({ id, code, name }) => ({ value: String(id), label: t('form.option', { code, name }) }))]} onChange={({ currentTarget: { value } }) => change({ machineId: value, unitId: '' })} />
        <NativeSelect size="md" label={t('form.unit')} value={draft.unitId} data={[{ value: '', label: t('form.all') }, ...units]} onChange={({ currentTarget: { value } }) => change({ unitId: value })} />
        <NativeSelect size="md" label={t('form.lane')} value={draft.laneId} data={[{ value: '', label: t('form.all') }, ...(line?.lanes ?? []).map(({ id, code, name }) => ({ value: String(id), label: t('form.option', { code, name }) }))]} onChange={({ currentTarget: { value } }) => change({ laneId: value })} />
        {field('from', t('form.from'), { type: 'datetime-local', required: true })}
        {field('firstBad', t('form.firstBad'), { type: 'datetime-local' })}
        {field('until', t('form.until'), { type: 'datetime-local', required: true })}
        <NativeSelect size="md" label={t('form.basis')} value={draft.basis} data={bases.map((value) => ({ value, label: t(`form.basisNames.${value}`) }))} onChange={({ currentTarget: { value } }) => change({ basis: bases.find((each) => each === value) ?? 'stated' })} />
      </SimpleGrid>
      <Text size="sm" c="dimmed">{zone}</Text>
      <SimpleGrid cols={{ base: 1, sm: 2 }}>
        {(['back', 'forward'] as const).map((way) => (
          <fieldset key={way} style={{ border: 0, padding: 0, margin: 0 }}><legend>{t(`form.${way}`)}</legend>
            <Group grow>{field(`${way}Shortest`, t('form.shortest'), { inputMode: 'decimal' })}{field(`${way}Longest`, t('form.longest'), { inputMode: 'decimal' })}</Group>
            {way === 'back' && draft.suspectStepId === '' ? <Text size="sm" c="dimmed">{t('ways.sampledThere')}</Text> : <WayLines way={ways[way]} unknown={t('ways.unknown')} />}
            {typed[way] && ways[way] ? <Button variant="subtle" size="compact-md" onClick={() => change({}, { ...typed, [way]: false })}>{t('ways.take')}</Button> : null}
          </fieldset>
        ))}
      </SimpleGrid>
      <Text size="sm" c="dimmed">{t('form.transitHint')}</Text>
      <SimpleGrid cols={{ base: 1, sm: 3 }}>
        {field('perMinute', t('form.perMinute'), { inputMode: 'decimal', description: t('form.perMinuteHint') })}
        {field('boundary', t('form.boundary'), { type: 'datetime-local', description: zone })}
        {field('prefix', t('form.prefix'))}
      </SimpleGrid>
      <Group><Button variant="default" size="md" disabled={draft.perMinute.trim() === ''} loading={compute.isPending} onClick={fill}>{t('form.fill')}</Button>
        {compute.data?.computed ? <Text role="status">{t('form.computed', { count: compute.data.computed.count })}{compute.data.computed.pallets.length === 0 ? ` ${t('form.noSpans')}` : ''}</Text> : null}</Group>
      <Textarea size="md" label={t('form.pallets')} description={t('form.palletsHint')} autosize minRows={3} maxRows={14} value={draft.pallets} onChange={({ currentTarget: { value } }) => change({ pallets: value })} />
      <Textarea size="md" required label={t('form.reason')} description={t('form.reasonHint')} autosize minRows={2} maxLength={4000} value={draft.reason} onChange={({ currentTarget: { value } }) => setDraft((before) => ({ ...before, reason: value }))} />
      {asked && faults.length > 0 ? <Text role="alert">{t('form.badLine', { count: faults.length, what: faults.map(words).join(', ') })}</Text> : null}
      <ProblemList error={compute.error} />
      <Group><Button variant="default" size="md" loading={compute.isPending} onClick={run}>{t('form.compute')}</Button></Group>
      {compute.data ? <ArithmeticView arithmetic={compute.data.arithmetic} /> : <Text>{t('form.computeFirst')}</Text>}
      <ProblemList error={place.error} />
      <Group>
        <Button size="md" disabled={!compute.data || draft.reason.trim().length < 3} loading={place.isPending} onClick={() => send('placed')}>{t('form.place')}</Button>
        <Button size="md" variant="default" disabled={!compute.data || draft.reason.trim().length < 3} loading={place.isPending} onClick={() => send('proposed')}>{t('form.propose')}</Button>
      </Group>
    </Stack>
  );
}

import { Button, Group, Modal, NumberInput, Select, Stack, Switch, Textarea, TextInput } from '@mantine/core';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { USUAL_NEAR_EDGE } from '#canmaking/weld/tested-window';
import type { PlantTree } from '#contract/plant';
import { type WeldWindow, type WeldWindowScope, writeWeldWindow } from '#contract/weld-windows';
import { useFormat } from '../shared/format.js';
import { call, ProblemError } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';

type Numbers = 'lower' | 'upper' | 'nearEdge' | 'speed';
type Texts = 'material' | 'wire' | 'testedAt' | 'testedBy' | 'evidence' | 'from' | 'reason';

/** A window that a test proved, or the next version of one. What is typed stays when the server refuses it. */
export function WeldWindowForm({ tree, settings, before, onClose }: { tree: PlantTree; settings: PlantTree['characteristics']; before: WeldWindow | null; onClose: () => void }) {
  const { t } = useTranslation('weldWindows');
  const format = useFormat();
  const client = useQueryClient();
  const welders = tree.lines.flatMap((line) => line.steps.filter(({ kind }) => kind === 'body-maker').map((step) => ({ line, machines: step.machines })));
  const [place, setPlace] = useState<string | null>(null);
  const [product, setProduct] = useState<string | null>(null);
  const [setting, setSetting] = useState<string | null>(() => String((settings.find(({ unit }) => unit === 'A') ?? settings[0])?.id ?? ''));
  const old = before?.window;
  const [numbers, setNumbers] = useState<Record<Numbers, number | null>>({ lower: old?.lower ?? null, upper: old?.upper ?? null, nearEdge: old?.nearEdge ?? USUAL_NEAR_EDGE, speed: old?.speed ?? null });
  const [texts, setTexts] = useState<Record<Texts, string>>({ material: old?.material ?? '', wire: old?.wire ?? '', testedAt: '', testedBy: '', evidence: '', from: '', reason: '' });
  const [takingBack, setTakingBack] = useState(false);
  const chosen = before?.characteristic ?? settings.find(({ id }) => String(id) === setting);
  const write = useMutation({
    mutationFn: () => call(writeWeldWindow, { body: bodyOf() }),
    onSuccess: async () => { await Promise.all([client.invalidateQueries({ queryKey: ['weld-windows'] }), client.invalidateQueries({ queryKey: ['weld-positions'] })]); onClose(); },
  });
  function bodyOf() {
    const [kind, id] = (place ?? '').split(' ');
    const scope: WeldWindowScope = before?.scope ?? { place: kind === 'line' ? { kind: 'line', lineId: Number(id) } : { kind: 'machine', machineId: Number(id) }, productId: product === null ? null : Number(product), characteristicId: chosen?.id ?? 0 };
    const { material, wire, testedBy, evidence, reason } = texts;
    const window = { lower: numbers.lower ?? 0, upper: numbers.upper ?? 0, nearEdge: numbers.nearEdge ?? USUAL_NEAR_EDGE, speed: numbers.speed, material, wire, testedBy, evidence, testedAt: format.fromInput(texts.testedAt) ?? '' };
    return { scope, window: takingBack ? null : window, effectiveFrom: format.fromInput(texts.from) ?? '', reason, after: before?.version ?? 0 };
  }
  const errorOf = (field: string) => (write.error instanceof ProblemError ? write.error.problem.errors?.find((error) => error.field === field)?.expected : undefined);
  const number = (name: Numbers, label: string, { hint, required = true }: { hint?: string; required?: boolean } = {}) => <NumberInput size="md" flex={1} miw={220} hideControls required={required} label={label} description={hint} error={errorOf(`window.${name}`)} value={numbers[name] ?? ''} onChange={(next) => setNumbers({ ...numbers, [name]: next === '' ? null : Number(next) })} />;
  const text = (name: Texts, label: string, { hint, required = false, type }: { hint?: string; required?: boolean; type?: string } = {}) => {
    const wrong = type === 'datetime-local' && texts[name] !== '' && format.fromInput(texts[name]) === null ? t('form.badTime') : errorOf(name === 'from' ? 'effectiveFrom' : name === 'reason' ? name : `window.${name}`);
    return <TextInput size="md" flex={1} miw={220} type={type} required={required} label={label} description={hint} error={wrong} value={texts[name]} onChange={({ currentTarget: { value } }) => setTexts({ ...texts, [name]: value })} />;
  };
  const unit = chosen?.unit ?? '';
  const zone = t('form.zone', { zone: format.timeZone });
  return (
    <Modal opened onClose={onClose} size="xl" title={before ? t('newOf', { name: `${before.characteristic.name}, ${before.machine?.code ?? before.line.code}` }) : t('form.title')} closeButtonProps={{ 'aria-label': t('form.cancel') }}>
      <form onSubmit={(event: FormEvent) => { event.preventDefault(); write.mutate(); }}>
        <Stack>
          {before ? <Switch size="md" label={t('form.takeBack')} description={t('form.takeBackHint')} checked={takingBack} onChange={({ currentTarget: { checked } }) => setTakingBack(checked)} /> : (
            <Group align="flex-start">
              <Select size="md" flex={1} miw={220} required searchable label={t('form.where')} value={place} onChange={setPlace} data={welders.flatMap(({ line, machines }) => [{ value: `line ${line.id}`, label: t('line', { line: line.code }) }, ...machines.map(({ id, code }) => ({ value: `machine ${id}`, label: t('machine', { machine: code }) }))])} />
              <Select size="md" flex={1} miw={220} clearable searchable label={t('form.product')} description={t('form.productHint')} value={product} onChange={setProduct} data={tree.products.map(({ id, code, name }) => ({ value: String(id), label: `${code} ${name}` }))} />
              <Select size="md" flex={1} miw={220} required label={t('form.setting')} value={setting} onChange={setSetting} data={settings.map(({ id, name }) => ({ value: String(id), label: name }))} />
            </Group>
          )}
          {takingBack ? null : (
            <>
              <Group align="flex-start">{number('lower', t('form.lower', { unit }), { hint: t('form.lowerHint') })}{number('upper', t('form.upper', { unit }), { hint: t('form.upperHint') })}{number('nearEdge', t('form.nearEdge'), { hint: t('form.nearEdgeHint') })}</Group>
              <Group align="flex-start">{text('material', t('form.material'), { hint: t('form.materialHint') })}{text('wire', t('form.wire'))}{number('speed', t('form.speed'), { required: false })}</Group>
              <Group align="flex-start">{text('testedAt', t('form.testedAt'), { required: true, type: 'datetime-local', hint: zone })}{text('testedBy', t('form.testedBy'), { required: true })}</Group>
              <Textarea size="md" required autosize minRows={2} label={t('form.evidence')} description={t('form.evidenceHint')} error={errorOf('window.evidence')} value={texts.evidence} onChange={({ currentTarget: { value } }) => setTexts({ ...texts, evidence: value })} />
            </>
          )}
          <Group align="flex-start">{text('from', t('form.from'), { required: true, type: 'datetime-local', hint: zone })}{text('reason', t('form.reason'), { required: true })}</Group>
          {write.isError ? <ProblemList error={write.error} /> : null}
          <Group><Button size="md" type="submit" loading={write.isPending}>{t('form.save')}</Button><Button size="md" variant="default" onClick={onClose}>{t('form.cancel')}</Button></Group>
        </Stack>
      </form>
    </Modal>
  );
}

import { Button, Stack, Text } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { type PlantTree, setStretches } from '#contract/plant';
import { SetUpForm } from './set-up-form.js';
import { SetUpTable } from './set-up-table.js';
import { useAct } from './set-up.queries.js';

type Line = PlantTree['lines'][number];
type Stretch = Line['stretches'][number];
type Dialog = { stretch: Stretch | null } | 'clocks';

/** How long cans take between the steps of a line: what the trace walks back by. */
export function StretchesOfLine({ line, mayChange }: { line: Line; mayChange: boolean }) {
  const { t } = useTranslation('plant');
  const [dialog, setDialog] = useState<Dialog>();
  const nameOf = (id: number) => line.steps.find((step) => step.id === id)?.kind.replaceAll('-', ' ') ?? '–';
  return (
    <Stack gap="xs">
      <SetUpTable title={t('setUp.stretch.title')} text={t('setUp.stretch.text', { clock: line.clockMinutes })} empty={t('setUp.stretch.empty')}
        columns={[t('setUp.stretch.from'), t('setUp.stretch.to'), t('setUp.stretch.seconds'), t('setUp.stretch.cans')]}
        add={mayChange && line.steps.length > 1 ? { label: t('setUp.stretch.add'), onClick: () => setDialog({ stretch: null }) } : undefined}
        edit={mayChange ? (id) => setDialog({ stretch: line.stretches.find(({ fromStepId }) => fromStepId === id) ?? null }) : undefined}
        rows={line.stretches.map((stretch) => ({ id: stretch.fromStepId, name: nameOf(stretch.fromStepId), cells: [nameOf(stretch.fromStepId), nameOf(stretch.toStepId), t('setUp.stretch.bounds', { low: stretch.shortestSeconds, high: stretch.longestSeconds }), stretch.leastCans === null && stretch.mostCans === null ? t('setUp.stretch.unknown') : t('setUp.stretch.between', { low: stretch.leastCans ?? 0, high: stretch.mostCans ?? '∞' })] }))} />
      {mayChange ? <Button variant="default" size="xs" style={{ alignSelf: 'flex-start' }} onClick={() => setDialog('clocks')}>{t('setUp.stretch.clocks')}</Button> : <Text c="dimmed">{t('setUp.stretch.readOnly')}</Text>}
      {dialog ? <StretchDialog line={line} dialog={dialog} onClose={() => setDialog(undefined)} /> : null}
    </Stack>
  );
}

function StretchDialog({ line, dialog, onClose }: { line: Line; dialog: Dialog; onClose: () => void }) {
  const { t } = useTranslation('plant');
  const act = useAct(setStretches);
  if (dialog === 'clocks') {
    return <SetUpForm title={t('setUp.stretch.clocks')} act={act} id={line.id} onClose={onClose} start={{ clockMinutes: line.clockMinutes }} fields={[{ name: 'clockMinutes', label: t('setUp.stretch.clockMinutes'), hint: t('setUp.stretch.clockHint'), kind: 'number', required: true }]} toBody={(values) => ({ ...values, stretches: line.stretches })} />;
  }
  const { stretch } = dialog;
  const options = line.steps.map((step) => ({ value: String(step.id), label: `${step.position}. ${step.kind.replaceAll('-', ' ')}` }));
  const others = line.stretches.filter((other) => other !== stretch);
  return (
    <SetUpForm title={stretch ? t('setUp.stretch.edit') : t('setUp.stretch.add')} act={act} id={line.id} onClose={onClose}
      start={stretch ? { ...stretch, fromStepId: String(stretch.fromStepId), toStepId: String(stretch.toStepId), remove: false } : { fromStepId: options[0]?.value, toStepId: options[1]?.value, shortestSeconds: 0, longestSeconds: 0, leastCans: null, mostCans: null, remove: false }}
      fields={[
        { name: 'fromStepId', label: t('setUp.stretch.from'), kind: 'select', required: true, options }, { name: 'toStepId', label: t('setUp.stretch.to'), kind: 'select', required: true, options },
        { name: 'shortestSeconds', label: t('setUp.stretch.shortest'), hint: t('setUp.stretch.shortestHint'), kind: 'number', required: true }, { name: 'longestSeconds', label: t('setUp.stretch.longest'), hint: t('setUp.stretch.longestHint'), kind: 'number', required: true },
        { name: 'leastCans', label: t('setUp.stretch.least'), hint: t('setUp.stretch.cansHint'), kind: 'number' }, { name: 'mostCans', label: t('setUp.stretch.most'), kind: 'number' },
        ...(stretch ? [{ name: 'remove', label: t('setUp.stretch.remove'), kind: 'switch' } as const] : []),
      ]}
      toBody={({ remove, fromStepId, toStepId, ...bounds }) => ({ clockMinutes: line.clockMinutes, stretches: remove === true ? others : [...others, { ...bounds, fromStepId: Number(fromStepId), toStepId: Number(toStepId) }] })} />
  );
}

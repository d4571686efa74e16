import { Button, Card, Group, Stack, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { stepKinds } from '#canmaking/line/steps';
import { changeLine, changeMachine, changeStep, createLine, createMachine, createStep, type PlantTree } from '#contract/plant';
import { SetUpForm } from './set-up-form.js';
import { StretchesOfLine } from './set-up-stretches.js';
import { SetUpTable } from './set-up-table.js';
import { useAct } from './set-up.queries.js';

type Line = PlantTree['lines'][number];
type Dialog = { kind: 'addLine' } | { kind: 'renameLine'; line: Line } | { kind: 'addStep'; line: Line } | { kind: 'editStep'; step: Line['steps'][number] } | { kind: 'addMachine'; stepId: number } | { kind: 'editMachine'; machine: Line['steps'][number]['machines'][number] };

/** Lines with their steps in the order of the process, machines and units. */
export function LinesSection({ tree, mayChange }: { tree: PlantTree; mayChange: boolean }) {
  const { t } = useTranslation('plant');
  const [dialog, setDialog] = useState<Dialog>();
  return (
    <Stack>
      <Group justify="space-between"><Title order={2} size="h4">{t('setUp.sections.lines')}</Title>{mayChange ? <Button onClick={() => setDialog({ kind: 'addLine' })}>{t('setUp.line.add')}</Button> : null}</Group>
      {tree.lines.length === 0 ? <Text>{t('setUp.line.empty')}</Text> : null}
      {tree.lines.map((line) => (
        <Card key={line.id} withBorder>
          <Stack>
            <Group justify="space-between">
              <Title order={3} size="h5">{t('setUp.line.heading', { code: line.code, name: line.name })}</Title>
              {mayChange ? <Group gap="xs"><Button variant="default" size="xs" onClick={() => setDialog({ kind: 'renameLine', line })}>{t('setUp.line.rename')}</Button><Button variant="default" size="xs" onClick={() => setDialog({ kind: 'addStep', line })}>{t('setUp.step.add')}</Button></Group> : null}
            </Group>
            {line.lanes.length > 0 ? <Text c="dimmed">{t('setUp.line.lanes', { lanes: line.lanes.map((lane) => `${lane.code} ${lane.name}`).join(', ') })}</Text> : null}
            {line.steps.map((step) => (
              <Stack key={step.id} gap="xs">
                <SetUpTable title={t('setUp.step.heading', { position: step.position, kind: step.kind.replaceAll('-', ' ') })} columns={[t('setUp.code'), t('setUp.name'), t('setUp.machine.units')]} empty={t('setUp.machine.empty')}
                  add={mayChange ? { label: t('setUp.machine.add'), onClick: () => setDialog({ kind: 'addMachine', stepId: step.id }) } : undefined}
                  edit={mayChange ? (id) => { const machine = step.machines.find((entry) => entry.id === id); if (machine) setDialog({ kind: 'editMachine', machine }); } : undefined}
                  rows={step.machines.map((machine) => ({ id: machine.id, name: machine.code, cells: [machine.code, machine.retired ? t('setUp.retiredName', { name: machine.name }) : machine.name, machine.units.map((unit) => unit.code).join(' ') || '–'] }))} />
                {mayChange && step.machines.length === 0 ? <Button variant="default" size="xs" style={{ alignSelf: 'flex-start' }} onClick={() => setDialog({ kind: 'editStep', step })}>{t('setUp.step.edit')}</Button> : null}
              </Stack>
            ))}
            <StretchesOfLine line={line} mayChange={mayChange} />
          </Stack>
        </Card>
      ))}
      {dialog ? <LineDialog dialog={dialog} onClose={() => setDialog(undefined)} /> : null}
    </Stack>
  );
}

function LineDialog({ dialog, onClose }: { dialog: Dialog; onClose: () => void }) {
  const { t } = useTranslation('plant');
  const [addLine, renameLine, addStep, editStep, addMachine, editMachine] = [useAct(createLine), useAct(changeLine), useAct(createStep), useAct(changeStep), useAct(createMachine), useAct(changeMachine)];
  const code = { name: 'code', label: t('setUp.code'), kind: 'text', required: true } as const;
  const name = { name: 'name', label: t('setUp.name'), kind: 'text', required: true } as const;
  const stepKind = { name: 'kind', label: t('setUp.step.kind'), kind: 'select', required: true, options: stepKinds.map((kind) => ({ value: kind, label: kind.replaceAll('-', ' ') })) } as const;
  const named = (lanes: unknown) => (Array.isArray(lanes) ? lanes.map(String) : []).map((lane) => ({ code: lane, name: t('setUp.line.laneName', { code: lane }) }));
  switch (dialog.kind) {
    case 'addLine': return <SetUpForm title={t('setUp.line.add')} act={addLine} onClose={onClose} start={{ code: '', name: '', lanes: [] }} fields={[code, name, { name: 'lanes', label: t('setUp.line.laneCodes'), hint: t('setUp.line.laneHint'), kind: 'tags' }]}
      toBody={(values) => ({ ...values, lanes: named(values['lanes']) })} />;
    case 'renameLine': return <SetUpForm title={t('setUp.line.rename')} act={renameLine} id={dialog.line.id} onClose={onClose} start={{ name: dialog.line.name, addLanes: [] }} fields={[name, { name: 'addLanes', label: t('setUp.line.addLanes'), hint: t('setUp.line.laneHint'), kind: 'tags' }]} toBody={(values) => ({ ...values, addLanes: named(values['addLanes']) })} />;
    case 'addStep': return <SetUpForm title={t('setUp.step.add')} act={addStep} onClose={onClose} start={{ lineId: dialog.line.id, kind: 'body-maker' }} fields={[stepKind]} toBody={(values) => values} />;
    case 'editStep': return <SetUpForm title={t('setUp.step.edit')} act={editStep} id={dialog.step.id} onClose={onClose} start={{ kind: dialog.step.kind }} fields={[stepKind]} toBody={(values) => values} />;
    case 'addMachine': return <SetUpForm title={t('setUp.machine.add')} act={addMachine} onClose={onClose} start={{ stepId: dialog.stepId, code: '', name: '', units: [] }} fields={[code, name, { name: 'units', label: t('setUp.machine.units'), hint: t('setUp.machine.unitsHint'), kind: 'tags' }]} toBody={(values) => values} />;
    case 'editMachine': return <SetUpForm title={t('setUp.machine.edit')} act={editMachine} id={dialog.machine.id} onClose={onClose} start={{ name: dialog.machine.name, retired: dialog.machine.retired, addUnits: [] }} fields={[name, { name: 'addUnits', label: t('setUp.machine.addUnits'), kind: 'tags' }, { name: 'retired', label: t('setUp.retired'), hint: t('setUp.retiredHint'), kind: 'switch' }]} toBody={(values) => values} />;
  }
}

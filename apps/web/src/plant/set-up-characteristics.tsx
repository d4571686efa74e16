import { Button, Card, Checkbox, Group, Stack, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { stepKinds } from '#canmaking/line/steps';
import { formulaIds } from '#canmaking/seam/derive';
import { addUsualCharacteristics, changeCharacteristic, createCharacteristic, type PlantTree } from '#contract/plant';
import { ProblemList } from '../shared/problem-list.js';
import { QueryView } from '../shared/states.js';
import { type Field, SetUpForm } from './set-up-form.js';
import { SetUpTable } from './set-up-table.js';
import { useAct, useUsual } from './set-up.queries.js';

export function CharacteristicsSection({ tree, mayChange }: { tree: PlantTree; mayChange: boolean }) {
  const { t } = useTranslation('plant');
  const [editing, setEditing] = useState<number | 'new'>();
  const [add, edit] = [useAct(createCharacteristic), useAct(changeCharacteristic)];
  const known = tree.characteristics.find((entry) => entry.id === editing);
  const charting: Field[] = [
    { name: 'name', label: t('setUp.name'), kind: 'text', required: true },
    { name: 'gaugeStep', label: t('setUp.characteristic.gaugeStep'), kind: 'number', required: true }, { name: 'decimals', label: t('setUp.characteristic.decimals'), kind: 'number', required: true },
    { name: 'plausibleLow', label: t('setUp.characteristic.plausibleLow'), hint: t('setUp.characteristic.plausibleHint'), kind: 'number' }, { name: 'plausibleHigh', label: t('setUp.characteristic.plausibleHigh'), kind: 'number' },
    { name: 'chartKind', label: t('setUp.characteristic.chartKind'), kind: 'select', required: true, options: (['xbar-r', 'xbar-s', 'i-mr'] as const).map((value) => ({ value, label: t(`setUp.chartKinds.${value}`) })) },
    { name: 'basis', label: t('setUp.characteristic.basis'), hint: t('setUp.characteristic.basisHint'), kind: 'select', required: true, options: (['can', 'reading'] as const).map((value) => ({ value, label: t(`setUp.bases.${value}`) })) },
  ];
  const identity: Field[] = [
    { name: 'code', label: t('setUp.code'), hint: t('setUp.characteristic.codeHint'), kind: 'text', required: true }, { name: 'unit', label: t('setUp.unit'), kind: 'text', required: true },
    { name: 'stepKind', label: t('setUp.step.kind'), kind: 'select', required: true, options: stepKinds.map((kind) => ({ value: kind, label: kind.replaceAll('-', ' ') })) },
    { name: 'formula', label: t('setUp.characteristic.formula'), hint: t('setUp.characteristic.formulaHint'), kind: 'select', options: formulaIds.map((formula) => ({ value: formula, label: formula })) },
  ];
  return (
    <Stack>
      <SetUpTable title={t('setUp.sections.characteristics')} empty={t('setUp.characteristic.empty')} columns={[t('setUp.code'), t('setUp.name'), t('setUp.unit'), t('setUp.step.kind'), t('setUp.characteristic.gaugeStep'), t('setUp.characteristic.chartKind'), t('setUp.characteristic.formula')]}
        add={mayChange ? { label: t('setUp.characteristic.add'), onClick: () => setEditing('new') } : undefined} edit={mayChange ? setEditing : undefined}
        rows={tree.characteristics.map((row) => ({ id: row.id, name: row.name, cells: [row.code, row.name, row.unit, row.stepKind.replaceAll('-', ' '), row.gaugeStep, row.chartKind, row.formula ?? '–'] }))} />
      {mayChange ? <UsualList /> : null}
      {editing === 'new' ? <SetUpForm title={t('setUp.characteristic.add')} fields={[...identity, ...charting]} act={add} onClose={() => setEditing(undefined)} start={{ code: '', unit: 'mm', stepKind: 'seamer', formula: null, name: '', gaugeStep: 0.01, decimals: 2, plausibleLow: null, plausibleHigh: null, chartKind: 'i-mr', basis: 'can' }} toBody={(values) => values} /> : null}
      {known ? <SetUpForm key={known.id} title={t('setUp.characteristic.edit', { code: known.code })} fields={charting} act={edit} id={known.id} onClose={() => setEditing(undefined)} start={known} toBody={(values) => Object.fromEntries(charting.map((field) => [field.name, values[field.name]]))} /> : null}
    </Stack>
  );
}

/** The usual ones of the trade, to tick instead of typing. */
function UsualList() {
  const { t } = useTranslation('plant');
  const usual = useUsual();
  const add = useAct(addUsualCharacteristics);
  const [chosen, setChosen] = useState<string[]>([]);
  return (
    <QueryView query={usual} what={t('setUp.usual.title')} isEmpty={(list) => list.every((entry) => entry.known)} empty={null}>{(list) => (
      <Card withBorder>
        <Stack gap="sm">
          <Title order={3} size="h5">{t('setUp.usual.title')}</Title>
          <Text c="dimmed">{t('setUp.usual.text')}</Text>
          <Checkbox.Group value={chosen} onChange={setChosen}><Group>{list.filter((entry) => !entry.known).map((entry) => <Checkbox key={entry.code} value={entry.code} label={t('setUp.usual.entry', { name: entry.name, unit: entry.unit })} />)}</Group></Checkbox.Group>
          {add.isError ? <ProblemList error={add.error} /> : null}
          <Group>
            <Button disabled={chosen.length === 0} loading={add.isPending} onClick={() => add.mutate({ body: { codes: chosen } }, { onSuccess: () => setChosen([]) })}>{t('setUp.usual.add')}</Button>
            <Button variant="default" onClick={() => setChosen(list.filter((entry) => !entry.known).map((entry) => entry.code))}>{t('setUp.usual.all')}</Button>
          </Group>
        </Stack>
      </Card>
    )}</QueryView>
  );
}

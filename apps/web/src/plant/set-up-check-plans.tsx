import { Text } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { planOpeners } from '#contract/check-plans';
import { changeCheckPlan, createCheckPlan, type PlantTree } from '#contract/plant';
import { openerWord } from '../shared/due-words.js';
import { PlanRevisions } from './plan-revisions.js';
import { type Field, SetUpForm } from './set-up-form.js';
import { SetUpTable } from './set-up-table.js';
import { useAct } from './set-up.queries.js';

export function CheckPlansSection({ tree, mayChange }: { tree: PlantTree; mayChange: boolean }) {
  const { t } = useTranslation('plant');
  const { t: floor } = useTranslation('floor');
  const [editing, setEditing] = useState<number | 'new'>();
  const [add, edit] = [useAct(createCheckPlan), useAct(changeCheckPlan)];
  const machines = tree.lines.flatMap((line) => line.steps.flatMap((step) => step.machines));
  if (machines.length === 0 || tree.products.length === 0 || tree.characteristics.length === 0) return <Text>{t('setUp.checkPlan.needs')}</Text>;
  const plan = tree.checkPlans.find((entry) => entry.id === editing);
  const machineOf = (id: number) => machines.find((machine) => machine.id === id)?.code ?? '';
  const productOf = (id: number) => tree.products.find((product) => product.id === id)?.code ?? '';
  const fields: Field[] = [
    { name: 'name', label: t('setUp.name'), kind: 'text', required: true },
    { name: 'cans', label: t('setUp.checkPlan.cans'), hint: t('setUp.checkPlan.cansHint'), kind: 'number', required: true },
    { name: 'perUnit', label: t('setUp.checkPlan.perUnit'), kind: 'switch' }, { name: 'perLane', label: t('setUp.checkPlan.perLane'), kind: 'switch' },
    { name: 'positions', label: t('setUp.checkPlan.positions'), hint: t('setUp.checkPlan.positionsHint'), kind: 'tags' },
    { name: 'characteristics', label: t('setUp.checkPlan.characteristics'), hint: t('setUp.checkPlan.characteristicsHint'), kind: 'many', options: tree.characteristics.filter((entry) => entry.formula === null).map((entry) => ({ value: entry.code, label: `${entry.name} (${entry.unit})` })) },
    { name: 'everyMinutes', label: t('setUp.checkPlan.every'), hint: t('setUp.checkPlan.everyHint'), kind: 'number' }, { name: 'intervalSource', label: t('setUp.checkPlan.source'), hint: t('setUp.checkPlan.sourceHint'), kind: 'text' },
    { name: 'everyCans', label: floor('plan.everyCans'), hint: floor('plan.everyCansHint'), kind: 'number' }, { name: 'cansSource', label: floor('plan.cansSource'), kind: 'text' },
    { name: 'unitsEachTime', label: floor('plan.unitsEachTime'), hint: floor('plan.unitsEachTimeHint'), kind: 'number' },
    { name: 'openedBy', label: floor('plan.openedBy'), kind: 'many', options: planOpeners.map((value) => ({ value, label: floor(`openers.${value}`) })) }, { name: 'longStopMinutes', label: floor('plan.longStop'), hint: floor('plan.longStopHint'), kind: 'number' },
    { name: 'eventsSource', label: floor('plan.eventsSource'), kind: 'text' },
    { name: 'reason', label: floor('plan.reason'), kind: 'text', required: true },
  ];
  const place: Field[] = [
    { name: 'machineId', label: t('setUp.checkPlan.machine'), kind: 'select', required: true, options: machines.filter((machine) => !machine.retired).map((machine) => ({ value: String(machine.id), label: `${machine.code} ${machine.name}` })) },
    { name: 'productId', label: t('setUp.specification.product'), kind: 'select', required: true, options: tree.products.filter((product) => !product.retired).map((product) => ({ value: String(product.id), label: `${product.code} ${product.name}` })) },
  ];
  return (
    <>
      <SetUpTable title={t('setUp.sections.plans')} empty={t('setUp.checkPlan.empty')} add={mayChange ? { label: t('setUp.checkPlan.add'), onClick: () => setEditing('new') } : undefined} edit={mayChange ? setEditing : undefined}
        columns={[t('setUp.name'), t('setUp.checkPlan.machine'), t('setUp.specification.product'), t('setUp.checkPlan.cans'), t('setUp.checkPlan.positions'), t('setUp.checkPlan.characteristics'), t('setUp.checkPlan.every')]}
        rows={tree.checkPlans.map((row) => ({ id: row.id, name: row.name, cells: [row.retired ? t('setUp.retiredName', { name: row.name }) : row.name, machineOf(row.machineId), productOf(row.productId), row.perUnit ? t('setUp.checkPlan.eachUnit', { cans: row.cans }) : row.perLane ? t('setUp.checkPlan.eachLane', { cans: row.cans }) : row.cans, row.positions.join(', '), row.characteristics.map((code) => tree.characteristics.find((entry) => entry.code === code)?.name ?? code).join(', '), [row.everyMinutes === null ? [] : floor('plan.minutes', { count: row.everyMinutes }), row.everyCans === null ? [] : floor('plan.cans', { count: row.everyCans }), row.openedBy.map((kind) => openerWord(floor, kind))].flat().join('; ') || '–'] }))} />
      <PlanRevisions plans={tree.checkPlans} />
      {editing === 'new' ? <SetUpForm title={t('setUp.checkPlan.add')} fields={[...place, ...fields]} act={add} onClose={() => setEditing(undefined)} start={{ machineId: '', productId: '', name: '', cans: 1, perUnit: false, perLane: false, positions: [], characteristics: [], everyMinutes: null, intervalSource: '', everyCans: null, cansSource: '', unitsEachTime: null, openedBy: [], longStopMinutes: null, eventsSource: '', reason: '' }} toBody={(values) => ({ ...values, machineId: Number(values['machineId']), productId: Number(values['productId']) })} /> : null}
      {plan ? <SetUpForm key={plan.id} title={t('setUp.checkPlan.edit', { name: plan.name })} fields={[...fields, { name: 'retired', label: t('setUp.retired'), hint: t('setUp.retiredHint'), kind: 'switch' }]} act={edit} id={plan.id} onClose={() => setEditing(undefined)} start={{ ...plan, reason: '' }} toBody={({ id: _id, machineId: _machine, productId: _product, ...values }) => values} /> : null}
    </>
  );
}

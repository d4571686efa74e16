import { Button, Group, NativeSelect, TextInput } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { CapabilityChoice } from '#contract/studies';
import { type CapabilityView, shiftDay } from './capability.url.js';
import type { StudyPeriod } from './study-period.js';

type Option = { value: string; label: string };
const SPANS = [7, 30, 90] as const;

/** Product, then the machines that made it, then what was measured there; only what has readings can be chosen. */
export function CapabilityPicker({ choices, view, period, onChange }: { choices: readonly CapabilityChoice[]; view: CapabilityView; period: StudyPeriod | null; onChange: (change: CapabilityView) => void }) {
  const { t } = useTranslation('studies');
  const ofProduct = choices.filter((choice) => choice.product.id === view.product);
  const ofMachine = ofProduct.filter((choice) => choice.machine.id === view.machine);
  const chosen = ofMachine.find((choice) => choice.characteristic.id === view.characteristic);
  const nothing: Option = { value: '', label: t('pick.nothing') };
  const select = (name: 'product' | 'machine' | 'characteristic' | 'unit' | 'lane', options: Option[]) => (
    <NativeSelect label={t(`pick.${name}`)} size="md" value={view[name] === undefined ? '' : String(view[name])} data={options} disabled={options.length < 2}
      onChange={({ currentTarget: { value } }) => onChange({ [name]: value === '' ? undefined : Number(value) })} />
  );
  const products = distinct(choices.map(({ product }) => ({ value: String(product.id), label: t('pick.named', product) })));
  const machines = distinct(ofProduct.map(({ machine }) => ({ value: String(machine.id), label: t('pick.machineLine', machine) })));
  const characteristics = distinct(ofMachine.map(({ characteristic }) => ({ value: String(characteristic.id), label: characteristic.name })));
  const parts = (all: readonly { id: number; code: string }[], label: string): Option[] => [{ value: '', label }, ...all.map(({ id, code }) => ({ value: String(id), label: code }))];
  return (
    <Group align="flex-end" gap="sm" className="no-print">
      {select('product', [nothing, ...products])}
      {select('machine', [nothing, ...machines])}
      {select('characteristic', [nothing, ...characteristics])}
      {chosen && chosen.units.length > 0 ? select('unit', parts(chosen.units, t('pick.allUnits'))) : null}
      {chosen && chosen.lanes.length > 0 ? select('lane', parts(chosen.lanes, t('pick.allLanes'))) : null}
      {period ? (
        <>
          {(['from', 'to'] as const).map((name) => (
            <TextInput key={name} type="date" size="md" label={t(`pick.${name}`)} value={period[name]} onChange={({ currentTarget: { value } }) => { if (value) onChange({ from: period.from, to: period.to, [name]: value }); }} />
          ))}
          <Button.Group>
            {SPANS.map((days) => <Button key={days} variant="default" size="md" onClick={() => onChange({ from: shiftDay(period.lastDay, 1 - days), to: period.lastDay })}>{t('pick.last', { count: days })}</Button>)}
          </Button.Group>
        </>
      ) : null}
    </Group>
  );
}

function distinct(options: readonly Option[]): Option[] {
  return [...new Map(options.map((option) => [option.value, option])).values()];
}

import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { changeGauge, createGauge, type PlantTree } from '#contract/plant';
import { useFormat } from '../shared/format.js';
import { useGaugeStandings } from '../shared/gauge-standings.queries.js';
import { StateBadge } from '../shared/state-badge.js';
import { type Field, SetUpForm, type Values } from './set-up-form.js';
import { SetUpTable } from './set-up-table.js';
import { useAct } from './set-up.queries.js';

export function GaugesSection({ tree, mayChange }: { tree: PlantTree; mayChange: boolean }) {
  const { t } = useTranslation('plant');
  const format = useFormat();
  const [editing, setEditing] = useState<number | 'new'>();
  const [add, edit] = [useAct(createGauge), useAct(changeGauge)];
  const gauge = tree.gauges.find((entry) => entry.id === editing);
  const fields: Field[] = [
    { name: 'name', label: t('setUp.name'), kind: 'text', required: true }, { name: 'unit', label: t('setUp.unit'), kind: 'text', required: true },
    { name: 'resolution', label: t('setUp.gauge.resolution'), kind: 'number', required: true }, { name: 'calibrationDue', label: t('setUp.gauge.due'), hint: format.timeZone, kind: 'dateTime' },
  ];
  // A time that the clock skips is no moment: sent as typed, the server says which field it is and what it needs.
  const moment = (text: unknown) => (typeof text === 'string' && text !== '' ? format.fromInput(text) ?? text : null);
  const toBody = ({ id: _id, calibrationDue, ...values }: Values) => ({ ...values, calibrationDue: moment(calibrationDue) });
  const standings = useGaugeStandings();
  // Whether it is out of calibration is the server's rule, the same as on every other screen.
  const due = (id: number, iso: string | null) => {
    const stands = standings.data?.gauges.find((entry) => entry.id === id)?.calibration;
    if (stands === 'failed') return <StateBadge state="signal" word={t('setUp.gauge.failed')} />;
    if (iso === null) return '–';
    return stands === 'overdue' ? <StateBadge state="due" word={t('setUp.gauge.overdue', { date: format.date(iso) })} /> : format.date(iso);
  };
  return (
    <>
      <SetUpTable title={t('setUp.sections.gauges')} empty={t('setUp.gauge.empty')} columns={[t('setUp.code'), t('setUp.name'), t('setUp.gauge.resolution'), t('setUp.gauge.due')]}
        add={mayChange ? { label: t('setUp.gauge.add'), onClick: () => setEditing('new') } : undefined} edit={mayChange ? setEditing : undefined}
        rows={tree.gauges.map((row) => ({ id: row.id, name: row.code, cells: [row.code, row.retired ? t('setUp.retiredName', { name: row.name }) : row.name, `${row.resolution} ${row.unit}`, due(row.id, row.calibrationDue)] }))} />
      {editing === 'new' ? <SetUpForm title={t('setUp.gauge.add')} fields={[{ name: 'code', label: t('setUp.code'), kind: 'text', required: true }, ...fields]} act={add} onClose={() => setEditing(undefined)} start={{ code: '', name: '', unit: 'mm', resolution: 0.01, calibrationDue: '' }} toBody={toBody} /> : null}
      {gauge ? <SetUpForm key={gauge.id} title={t('setUp.gauge.edit', { code: gauge.code })} fields={[...fields, { name: 'retired', label: t('setUp.retired'), hint: t('setUp.retiredHint'), kind: 'switch' }]} act={edit} id={gauge.id} onClose={() => setEditing(undefined)} start={{ ...gauge, calibrationDue: gauge.calibrationDue === null ? '' : format.toInput(gauge.calibrationDue) }} toBody={({ code: _code, ...values }) => toBody(values)} /> : null}
    </>
  );
}

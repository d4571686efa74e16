import { Stack } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { setShifts, type ShiftView } from '#contract/shifts';
import { useShifts } from '../shared/shifts.queries.js';
import { QueryView } from '../shared/states.js';
import { type Field, SetUpForm, type Values } from './set-up-form.js';
import { SetUpTable } from './set-up-table.js';
import { useAct } from './set-up.queries.js';

/** 1 is Monday. */
const DAYS = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'] as const;
const everyDay = DAYS.map((_, at) => String(at + 1));

/** Who is on when: records are shown with the shift in which they fell. */
export function ShiftsSection({ mayChange }: { mayChange: boolean }) {
  const { t } = useTranslation('plant');
  return <QueryView query={useShifts()} what={t('setUp.shift.loading')}>{({ shifts }) => <Shifts shifts={shifts} mayChange={mayChange} />}</QueryView>;
}

function Shifts({ shifts, mayChange }: { shifts: readonly ShiftView[]; mayChange: boolean }) {
  const { t } = useTranslation('plant');
  const act = useAct(setShifts);
  const [editing, setEditing] = useState<number | 'new'>();
  const edited = typeof editing === 'number' ? shifts[editing] : undefined;
  const dayName = (day: number) => t(`setUp.shift.dayNames.${DAYS[day - 1] ?? 'monday'}`);
  const fields: Field[] = [
    { name: 'name', label: t('setUp.name'), kind: 'text', required: true }, { name: 'begins', label: t('setUp.shift.begins'), hint: t('setUp.shift.clockHint'), kind: 'text', required: true },
    { name: 'ends', label: t('setUp.shift.ends'), hint: t('setUp.shift.endHint'), kind: 'text', required: true },
    { name: 'days', label: t('setUp.shift.days'), hint: t('setUp.shift.daysHint'), kind: 'many', options: everyDay.map((day) => ({ value: day, label: dayName(Number(day)) })) },
    ...(edited ? [{ name: 'remove', label: t('setUp.shift.remove'), kind: 'switch' } as const] : []),
  ];
  // The whole list is sent: refusals name the place in it, and the form shows them below its fields.
  const toBody = ({ remove, days, ...shift }: Values) => {
    const next = { ...shift, days: Array.isArray(days) ? days.map(Number) : [] };
    return { shifts: edited ? shifts.flatMap((each) => (each !== edited ? [each] : remove === true ? [] : [next])) : [...shifts, next] };
  };
  const close = () => setEditing(undefined);
  const open = (which: number | 'new') => { act.reset(); setEditing(which); };
  return (
    <Stack>
      <SetUpTable title={t('setUp.sections.shifts')} text={t('setUp.shift.text')} empty={t('setUp.shift.empty')} columns={[t('setUp.name'), t('setUp.shift.hours'), t('setUp.shift.days')]}
        add={mayChange ? { label: t('setUp.shift.add'), onClick: () => open('new') } : undefined} edit={mayChange ? open : undefined}
        rows={shifts.map(({ name, begins, ends, days }, id) => ({ id, name, cells: [name, t('setUp.shift.span', { begins, ends }), days.length === DAYS.length ? t('setUp.shift.everyDay') : days.map(dayName).join(', ')] }))} />
      {editing !== undefined ? <SetUpForm key={editing} title={edited ? t('setUp.changeOf', { name: edited.name }) : t('setUp.shift.add')} fields={fields} act={act} start={edited ? { ...edited, days: edited.days.map(String), remove: false } : { name: '', begins: '06:00', ends: '14:00', days: everyDay }} toBody={toBody} onClose={close} /> : null}
    </Stack>
  );
}

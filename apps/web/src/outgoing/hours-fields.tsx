import { Alert, Checkbox, Fieldset, Group, Radio, Stack, Text, TextInput } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { useFormat } from '../shared/format.js';
import { useShifts } from '../shared/shifts.queries.js';
import { goneShifts, type HoursDraft, hoursFaults } from './hours-draft.js';
import { timeOf } from './time-of-day.js';

/** ISO 8601 begins with Monday, as 1. */
const DAYS = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'] as const;
const kinds = ['any', 'typed', 'shifts'] as const;

/** When somebody is told: hours or shifts, days, and quiet hours. What is missing is named once the form was sent (`asked`). */
export function HoursFields({ draft, onChange, asked, of }: { draft: HoursDraft; onChange: (change: Partial<HoursDraft>) => void; asked: boolean; of: 'mail' | 'hook' }) {
  const { t } = useTranslation('toldHours');
  const { timeZone } = useFormat();
  const shifts = useShifts().data?.shifts;
  const faults = asked ? hoursFaults(draft) : [];
  const gone = goneShifts(draft.shifts, shifts);
  // A plant without shifts is not asked for them.
  const offered = kinds.filter((kind) => kind !== 'shifts' || (shifts?.length ?? 0) > 0 || draft.kind === 'shifts');
  const time = (name: 'from' | 'until' | 'quietFrom' | 'quietUntil') => <TextInput type="time" label={t(name)} value={draft[name]} onChange={(event) => onChange({ [name]: event.currentTarget.value })} />;
  const fault = (name: (typeof faults)[number]) => (faults.includes(name) ? <Text role="alert" size="sm">{t(name)}</Text> : null);
  return (
    <Fieldset legend={t('legend')}>
      <Stack gap="md">
        <Text size="sm" c="dimmed">{t('zone', { zone: timeZone })}</Text>
        <Radio.Group label={t('at')} value={draft.kind} onChange={(next) => onChange({ kind: kinds.find((kind) => kind === next) ?? 'any' })}><Group pt="xs">{offered.map((kind) => <Radio key={kind} value={kind} label={t(kind)} />)}</Group></Radio.Group>
        {draft.kind === 'typed' ? <div><Text size="sm" c="dimmed">{t('outside')}</Text><Group>{time('from')}{time('until')}</Group>{fault('noHours')}</div> : null}
        {draft.kind === 'shifts' ? (
          <Checkbox.Group label={t('which')} description={t('follow')} value={[...draft.shifts]} onChange={(next) => onChange({ shifts: next })}>
            <Group pt="xs">{(shifts ?? []).map(({ name, begins, ends }) => <Checkbox key={name} value={name} label={t('shiftOf', { name, begins, ends })} />)}{gone.map((name) => <Checkbox key={name} value={name} label={t('goneOf', { name })} />)}</Group>
            {fault('noShift')}
          </Checkbox.Group>
        ) : null}
        {draft.kind === 'shifts' && gone.length > 0 ? <Alert color="gray">{t('gone', { names: gone.join(', ') })}</Alert> : null}
        <Checkbox.Group label={t('days')} description={t('daysText')} value={draft.days.map(String)} onChange={(next) => onChange({ days: next.map(Number) })}><Group pt="xs">{DAYS.map((day, index) => <Checkbox key={day} value={String(index + 1)} label={t(`day.${day}`)} />)}</Group>{fault('noDay')}</Checkbox.Group>
        <div><Text fw={600} size="sm">{t('quiet')}</Text><Text size="sm" c="dimmed">{t(`quietText.${of}`)}</Text><Group>{time('quietFrom')}{time('quietUntil')}</Group>{fault('half')}</div>
      </Stack>
    </Fieldset>
  );
}

/** The same in words: "shift Early · Monday, Tuesday · quiet 22:00 to 06:00". */
export function useHoursWords() {
  const { t } = useTranslation('toldHours');
  return ({ shift, shifts, days, quiet }: { shift: { from: number; until: number } | null; shifts: readonly string[]; days: readonly number[]; quiet: { from: number; until: number } | null }): string => {
    const hours = shift ? t('said.span', { from: timeOf(shift.from), until: timeOf(shift.until) }) : shifts.length > 0 ? t('said.shift', { count: shifts.length, names: shifts.join(', ') }) : t('said.any');
    const on = days.length === DAYS.length ? t('said.everyDay') : DAYS.filter((_day, index) => days.includes(index + 1)).map((day) => t(`day.${day}`)).join(', ');
    return [hours, on, ...(quiet ? [t('said.quiet', { from: timeOf(quiet.from), until: timeOf(quiet.until) })] : [])].join(' · ');
  };
}

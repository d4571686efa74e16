import { Alert, Group, NativeSelect, Select } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Layout } from '#contract/ingest';

const ZONES = [...new Set(['UTC', ...Intl.supportedValuesOf('timeZone')])];

/** How the file is written; `undecided` asks for what its bytes leave open. */
export function LayoutFields({ layout, undecided, onChange, children }: { layout: Layout; undecided: boolean; onChange: (change: Partial<Layout>) => void; children: React.ReactNode }) {
  const { t } = useTranslation('ingest');
  return (
    <>
      <Group align="flex-end">
        <NativeSelect label={t('layout.encoding')} value={layout.encoding} onChange={(event) => onChange({ encoding: event.currentTarget.value === 'utf-8' ? 'utf-8' : 'windows-1252' })} data={(['utf-8', 'windows-1252'] as const).map((value) => ({ value, label: t(`encodings.${value}`) }))} />
        <NativeSelect label={t('layout.separator')} value={layout.separator} onChange={(event) => onChange({ separator: ([',', ';', '\t'] as const).find((mark) => mark === event.currentTarget.value) ?? ',' })} data={[{ value: ',', label: t('separators.comma') }, { value: ';', label: t('separators.semicolon') }, { value: '\t', label: t('separators.tab') }]} />
        <NativeSelect label={t('layout.decimal')} value={layout.decimal} onChange={(event) => onChange({ decimal: event.currentTarget.value === ',' ? ',' : '.' })} data={[{ value: '.', label: t('decimals.point') }, { value: ',', label: t('decimals.comma') }]} />
        <NativeSelect label={t('layout.dateOrder')} value={layout.dateOrder} onChange={(event) => onChange({ dateOrder: (['day-month-year', 'month-day-year'] as const).find((order) => order === event.currentTarget.value) ?? 'year-month-day' })} data={(['year-month-day', 'day-month-year', 'month-day-year'] as const).map((value) => ({ value, label: t(`dateOrders.${value}`) }))} />
        <Select label={t('layout.timeZone')} data={ZONES} searchable value={layout.timeZone} onChange={(value) => { if (value) onChange({ timeZone: value }); }} allowDeselect={false} />
        {children}
      </Group>
      {undecided ? <Alert color="gray" role="status" title={t('layout.undecidedTitle')}>{t('layout.undecided', { order: t(`dateOrders.${layout.dateOrder}`) })}</Alert> : null}
    </>
  );
}

import { Group, NativeSelect, TextInput } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { useFormat } from '../shared/format.js';
import { type ChartsView, LASTS, spanOf } from './charts.url.js';

/** The last so many subgroups, or a span on the plant's clocks. */
export function SpanPicker({ view, shown, onChange }: { view: ChartsView; shown: { first: string; last: string } | null; onChange: (change: ChartsView) => void }) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  const { last } = spanOf(view);
  const isSpan = view.from !== undefined || view.to !== undefined;
  const lasts = last === undefined || (LASTS as readonly number[]).includes(last) ? LASTS : [...LASTS, last].sort((a, b) => a - b);
  return (
    <Group gap="sm" align="flex-end" className="no-print">
      <NativeSelect size="md" label={t('pick.show')} value={isSpan ? 'span' : String(last)}
        data={[...lasts.map((count) => ({ value: String(count), label: t('pick.last', { count }) })), { value: 'span', label: t('pick.span') }]}
        onChange={({ currentTarget: { value } }) => onChange(value === 'span' ? { from: shown?.first, to: shown?.last } : { last: Number(value) })} />
      {isSpan ? (['from', 'to'] as const).map((name) => (
        <TextInput key={`${name}/${view[name] ?? ''}`} type="datetime-local" size="md" label={t(`pick.${name}`)} defaultValue={view[name] === undefined ? '' : format.toInput(view[name])}
          onBlur={({ currentTarget: { value } }) => { const moment = format.fromInput(value); if (moment !== null && (view[name] === undefined || format.toInput(view[name]) !== value)) onChange({ [name]: moment }); }} />
      )) : null}
    </Group>
  );
}

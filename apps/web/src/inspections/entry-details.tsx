import { NativeSelect, SimpleGrid, Textarea, TextInput } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { useFormat } from '../shared/format.js';
import type { EntryDraft, Sheet } from './entry-draft.js';

/** When, who, with which gauge. Gauges are remembered for the machine. */
export function EntryDetails({ sheet, draft, onChange }: { sheet: Sheet; draft: EntryDraft; onChange: (change: Partial<EntryDraft>) => void }) {
  const { t } = useTranslation('inspections');
  const format = useFormat();
  const overdue = ({ calibrationDue }: Sheet['gauges'][number]) => calibrationDue !== null && new Date(calibrationDue).getTime() < Date.now();
  const setGauge = (code: string, text: string) => {
    const { [code]: _dropped, ...rest } = draft.gauges;
    onChange({ gauges: text === '' ? rest : { ...rest, [code]: Number(text) } });
  };
  const stated = sheet.measured.filter(({ code }) => draft.gauges[code] !== undefined).length;
  return (
    <section aria-label={t('log.details')}>
      <SimpleGrid cols={{ base: 1, xs: 2, md: 3 }} spacing="sm" style={{ alignItems: 'end' }}>
        {/* Not controlled: the browser's own editing of a half-typed date must not be overwritten. */}
        <TextInput key={draft.key} type="datetime-local" size="md" label={t('log.takenAt', { zone: format.timeZone })} defaultValue={draft.takenAt === '' ? '' : format.toInput(draft.takenAt)}
          onChange={(event) => onChange({ takenAt: format.fromInput(event.currentTarget.value) ?? '' })} />
        <TextInput size="md" label={t('log.inspector')} value={draft.inspector} maxLength={80} onChange={(event) => onChange({ inspector: event.currentTarget.value })} />
        <Textarea size="md" label={t('log.note')} autosize minRows={1} maxRows={4} maxLength={8000} value={draft.note} onChange={(event) => onChange({ note: event.currentTarget.value })} />
      </SimpleGrid>
      {sheet.gauges.length === 0 ? null : (
        <details className="gauges">
          <summary>{t('log.gauges', { stated, of: sheet.measured.length })}</summary>
          <SimpleGrid cols={{ base: 1, xs: 2, md: 3 }} spacing="sm" style={{ alignItems: 'end' }}>
            {sheet.measured.map((entry) => (
              <NativeSelect key={entry.code} size="md" label={t('log.gauge', { name: entry.name })} value={String(draft.gauges[entry.code] ?? '')} onChange={(event) => setGauge(entry.code, event.currentTarget.value)}
                data={[{ value: '', label: t('log.noGauge') }, ...sheet.gauges.filter((gauge) => gauge.unit === entry.unit || gauge.id === draft.gauges[entry.code]).map((gauge) => ({ value: String(gauge.id), label: overdue(gauge) ? t('log.overdueGauge', gauge) : `${gauge.code} ${gauge.name}` }))]} />
            ))}
          </SimpleGrid>
        </details>
      )}
    </section>
  );
}

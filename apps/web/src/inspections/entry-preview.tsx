import { Box, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { mean } from '#statistics/numeric/mean';
import { range } from '#statistics/numeric/range';
import { useFormat } from '../shared/format.js';
import { canReadings, derivedPreview, type EntryDraft, type Sheet } from './entry-draft.js';
import { CanName } from './entry-grid.js';

/** Mean and range of each can, and derived values point by point, while the person types. Not the record: that is said. */
export function EntryPreview({ sheet, draft }: { sheet: Sheet; draft: EntryDraft }) {
  const { t } = useTranslation('inspections');
  const format = useFormat();
  const derived = derivedPreview(sheet, draft);
  const width = sheet.positions.length;
  // A rating is an order, not an amount: it has no mean.
  const measured = sheet.measured.filter(({ rating }) => !rating);
  return (
    <section aria-labelledby="preview-title">
      <Title order={2} size="h4" id="preview-title">{t('preview.title')}</Title>
      <Text size="sm" c="dimmed" mb="xs">{t('preview.text')}</Text>
      <Box component="section" className="grid-scroll" aria-labelledby="preview-title" tabIndex={0}>
        <table className="readings preview" aria-labelledby="preview-title">
          <thead>
            <tr>
              <th scope="col">{t('grid.can')}</th>
              {sheet.derived.map((entry) => <th key={entry.code} scope="col" className="first">{t('preview.derived', entry)}</th>)}
              {measured.map((entry) => <th key={entry.code} scope="col" className="first">{t('preview.meanRange', entry)}</th>)}
            </tr>
          </thead>
          <tbody>
            {sheet.cans.map((can, row) => (
              <tr key={`${can.unitId}/${can.laneId}/${can.number}`}>
                <th scope="row"><CanName can={can} /></th>
                {sheet.derived.map((entry) => <td key={entry.code} className="first">{(derived.get(entry.code) ?? []).slice(row * width, (row + 1) * width).map((value) => format.number(value, entry.decimals)).join(' · ')}</td>)}
                {measured.map((entry) => {
                  const present = canReadings(sheet, draft, entry.code, row);
                  return <td key={entry.code} className="first">{present.length === 0 ? '–' : `${format.number(mean(present), entry.decimals + 1)} / ${present.length < 2 ? '–' : format.number(range(present), entry.decimals)}`}</td>;
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </Box>
    </section>
  );
}

import { Button, Stack, Table, Text } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { useFormat } from '../shared/format.js';
import { type EntryDraft, filled, type Sheet } from './entry-draft.js';

/** The specification, for those who ask, once every cell is dealt with: who sees the limit while measuring steers to it. */
export function EntryLimits({ sheet, draft }: { sheet: Sheet; draft: EntryDraft }) {
  const { t } = useTranslation('entry');
  const format = useFormat();
  const [wanted, setWanted] = useState(false);
  const { done, skipped, of } = filled(sheet, draft);
  const measuring = done + skipped < of;
  const stated = sheet.measured.filter(({ specification }) => specification !== null);
  if (stated.length === 0) return null;
  if (measuring || !wanted) {
    return (
      <Stack gap={4} align="flex-start">
        <Button variant="default" size="md" disabled={measuring} aria-describedby="limits-why" onClick={() => setWanted(true)}>{t('limits.show')}</Button>
        <Text size="sm" c="dimmed" id="limits-why">{measuring ? t('limits.later') : t('limits.now')}</Text>
      </Stack>
    );
  }
  return (
    <section aria-labelledby="entry-limits">
      <Table w="auto" aria-labelledby="entry-limits">
        <Table.Caption id="entry-limits" ta="left">{t('limits.title', { product: sheet.product.name })}</Table.Caption>
        <Table.Thead><Table.Tr>{(['characteristic', 'lsl', 'target', 'usl', 'revision'] as const).map((head) => <Table.Th key={head} scope="col">{t(`limits.${head}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>
          {stated.map(({ code, name, unit, decimals, specification }) => (
            <Table.Tr key={code}>
              <Table.Th scope="row">{name}</Table.Th>
              {(['lsl', 'target', 'usl'] as const).map((what) => <Table.Td key={what}>{format.withUnit(specification?.[what], decimals, unit)}</Table.Td>)}
              <Table.Td>{specification?.revision}</Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
      <Button variant="default" size="md" onClick={() => setWanted(false)}>{t('limits.hide')}</Button>
    </section>
  );
}

import { Button, Group, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Sheet } from './entry-draft.js';
import { unitsAsked, unitsLeft } from './sheet-units.js';

/** Whose turn it is, and the way to the other units. Absent where every unit is asked for. */
export function UnitTurn({ sheet, onOpen }: { sheet: Sheet; onOpen: (unitIds: number[]) => void }) {
  const { t } = useTranslation('floor');
  const left = unitsLeft(sheet);
  if (left.length === 0) return null;
  return (
    <section aria-label={t('turn.title')}>
      <Text>{t('turn.asked', { units: unitsAsked(sheet).map(({ code }) => code).join(', ') })}</Text>
      <details className="gauges">
        <summary>{t('turn.others', { count: left.length })}</summary>
        <Group gap="xs">
          {left.map(({ id, code }) => <Button key={id} size="md" variant="default" onClick={() => onOpen([id])} aria-label={t('turn.openOne', { unit: code })}>{code}</Button>)}
          {left.length > 1 ? <Button size="md" variant="default" onClick={() => onOpen(left.map(({ id }) => id))}>{t('turn.openAll')}</Button> : null}
        </Group>
      </details>
    </section>
  );
}

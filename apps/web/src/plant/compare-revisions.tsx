import { NativeSelect, Stack } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { PlantTree, SpecificationRevision } from '#contract/plant';
import { CompareVersions } from '../shared/compare-versions.js';
import { useFormat } from '../shared/format.js';

/** Two revisions of one specification side by side. `revisions` are those of one product, newest first. */
export function CompareRevisions({ revisions, tree }: { revisions: readonly SpecificationRevision[]; tree: PlantTree }) {
  const { t } = useTranslation('portable');
  const format = useFormat();
  const [chosen, setChosen] = useState<number | null>(null);
  const several = tree.characteristics.filter(({ id }) => revisions.filter((row) => row.characteristicId === id).length > 1);
  const characteristic = several.find(({ id }) => id === chosen) ?? several[0];
  if (!characteristic) return null;
  const shown = (value: number | null) => (value === null ? null : format.withUnit(value, characteristic.decimals, characteristic.unit));
  const versions = revisions.filter((row) => row.characteristicId === characteristic.id).sort((a, b) => b.revision - a.revision).map((row) => ({
    key: String(row.revision), label: t('approval.version', row), author: row.author, at: row.createdAt, reason: row.reason,
    fields: { lsl: shown(row.lsl), target: shown(row.target), usl: shown(row.usl), effectiveFrom: format.dateTime(row.effectiveFrom), state: t(`approval.state.${row.state}`), decidedBy: row.decidedBy, decidedAt: row.decidedAt && format.dateTime(row.decidedAt), decision: row.decision },
  }));
  return (
    <Stack gap="xs">
      <NativeSelect size="md" maw={420} label={t('approval.ofCharacteristic')} value={String(characteristic.id)} data={several.map(({ id, name }) => ({ value: String(id), label: name }))} onChange={({ currentTarget }) => setChosen(Number(currentTarget.value))} />
      <CompareVersions key={characteristic.id} title={t('compare.title')} versions={versions} />
    </Stack>
  );
}

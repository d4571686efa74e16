import { Select, Stack, Table, Text } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { createSpecification, type PlantTree } from '#contract/plant';
import { useFormat } from '../shared/format.js';
import { QueryView } from '../shared/states.js';
import { CompareRevisions } from './compare-revisions.js';
import { ApprovalsSection } from './set-up-approvals.js';
import { SetUpForm } from './set-up-form.js';
import { SetUpTable } from './set-up-table.js';
import { useAct, useRevisions } from './set-up.queries.js';

/** The specification of one product: in force, and every earlier revision. */
export function SpecificationsSection({ tree, mayChange }: { tree: PlantTree; mayChange: boolean }) {
  const { t } = useTranslation('plant');
  const { t: portable } = useTranslation('portable');
  const format = useFormat();
  const [productId, setProductId] = useState<number | undefined>(tree.products[0]?.id);
  const [adding, setAdding] = useState(false);
  const add = useAct(createSpecification);
  const revisions = useRevisions(productId);
  if (tree.products.length === 0 || tree.characteristics.length === 0) return <Text>{t('setUp.specification.needs')}</Text>;
  const nameOf = (id: number) => tree.characteristics.find((entry) => entry.id === id);
  const inForce = tree.specifications.filter((entry) => entry.productId === productId);
  const shown = (value: number | null, id: number) => format.withUnit(value, nameOf(id)?.decimals ?? 2, nameOf(id)?.unit ?? '');
  return (
    <Stack>
      <ApprovalsSection secondPerson={tree.plant.secondPerson} />
      <Select label={t('setUp.specification.product')} maw={420} data={tree.products.map((product) => ({ value: String(product.id), label: `${product.code} ${product.name}` }))} value={productId === undefined ? null : String(productId)} onChange={(next) => setProductId(next === null ? undefined : Number(next))} allowDeselect={false} />
      <SetUpTable title={t('setUp.specification.inForce')} text={t('setUp.specification.text')} empty={t('setUp.specification.empty')} add={mayChange ? { label: t('setUp.specification.add'), onClick: () => setAdding(true) } : undefined}
        columns={[t('setUp.specification.characteristic'), t('setUp.specification.lsl'), t('setUp.specification.target'), t('setUp.specification.usl'), t('setUp.specification.revision'), t('setUp.specification.from')]}
        rows={inForce.map((row) => ({ id: row.id, name: nameOf(row.characteristicId)?.name ?? '', cells: [nameOf(row.characteristicId)?.name, shown(row.lsl, row.characteristicId), shown(row.target, row.characteristicId), shown(row.usl, row.characteristicId), row.revision, format.dateTime(row.effectiveFrom)] }))} />
      <QueryView query={revisions} what={t('setUp.specification.revisions')} isEmpty={(list) => list.length === 0} empty={null}>{(list) => (
        <details>
          <summary>{t('setUp.specification.revisions')}</summary>
          <Table.ScrollContainer minWidth={600}><Table>
            <Table.Thead><Table.Tr><Table.Th>{t('setUp.specification.characteristic')}</Table.Th><Table.Th>{t('setUp.specification.revision')}</Table.Th><Table.Th>{t('setUp.specification.range')}</Table.Th><Table.Th>{t('setUp.specification.from')}</Table.Th><Table.Th>{t('setUp.specification.by')}</Table.Th><Table.Th>{t('setUp.reason')}</Table.Th><Table.Th>{portable('approval.stateHead')}</Table.Th></Table.Tr></Table.Thead>
            <Table.Tbody>{list.map((row) => <Table.Tr key={row.id}><Table.Td>{nameOf(row.characteristicId)?.name}</Table.Td><Table.Td>{row.revision}</Table.Td><Table.Td>{t('setUp.specification.span', { low: shown(row.lsl, row.characteristicId), high: shown(row.usl, row.characteristicId) })}</Table.Td><Table.Td>{format.dateTime(row.effectiveFrom)}</Table.Td><Table.Td>{row.author}</Table.Td><Table.Td>{row.reason}</Table.Td><Table.Td>{row.decidedBy === null || row.decidedAt === null ? (row.state === 'proposed' ? portable('approval.state.proposed') : portable('approval.before')) : portable('approval.decidedBy', { state: portable(`approval.state.${row.state}`), name: row.decidedBy, at: format.dateTime(row.decidedAt) })}</Table.Td></Table.Tr>)}</Table.Tbody>
          </Table></Table.ScrollContainer>
          <CompareRevisions revisions={list} tree={tree} />
        </details>
      )}</QueryView>
      {adding ? <SetUpForm title={t('setUp.specification.add')} act={add} onClose={() => setAdding(false)} start={{ characteristicId: '', lsl: null, target: null, usl: null, effectiveFrom: format.toInput(new Date().toISOString()), reason: '' }}
        fields={[
          { name: 'characteristicId', label: t('setUp.specification.characteristic'), kind: 'select', required: true, options: tree.characteristics.map((entry) => ({ value: String(entry.id), label: `${entry.name} (${entry.unit})` })) },
          { name: 'lsl', label: t('setUp.specification.lsl'), kind: 'number' }, { name: 'target', label: t('setUp.specification.target'), kind: 'number' }, { name: 'usl', label: t('setUp.specification.usl'), kind: 'number' },
          { name: 'effectiveFrom', label: t('setUp.specification.from'), hint: format.timeZone, kind: 'dateTime', required: true }, { name: 'reason', label: t('setUp.reason'), kind: 'longText', required: true },
        ]}
        toBody={(values) => ({ ...values, productId, characteristicId: Number(values['characteristicId']), effectiveFrom: format.fromInput(String(values['effectiveFrom'])) ?? '' })} /> : null}
    </Stack>
  );
}

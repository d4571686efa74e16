import { Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { CheckView } from '#contract/inspections';
import { useFormat } from '../shared/format.js';
import { CanName } from './entry-grid.js';

/** Every value that was replaced: old and new, who, when, why. Nothing here can be hidden or taken away. */
export function CheckRevisions({ check }: { check: CheckView }) {
  const { t } = useTranslation('inspections');
  const format = useFormat();
  return (
    <section aria-labelledby="revisions-title">
      <Title order={2} size="h4" id="revisions-title">{t('check.revisions')}</Title>
      {check.revisions.length === 0 ? <Text c="dimmed">{t('check.noRevisions')}</Text> : (
        <Table.ScrollContainer minWidth={720}>
          <Table aria-labelledby="revisions-title">
            <Table.Thead><Table.Tr>{(['when', 'who', 'what', 'change', 'why'] as const).map((head) => <Table.Th key={head} scope="col">{t(`check.${head}`)}</Table.Th>)}</Table.Tr></Table.Thead>
            <Table.Tbody>
              {check.revisions.flatMap((revision) => revision.changes.map((change) => {
                const can = check.cans[change.can];
                return (
                  <Table.Tr key={`${revision.characteristic}/${revision.machineUnit}/${revision.lane}/${revision.revision}/${change.can}/${change.position}`}>
                    <Table.Td>{format.dateTime(revision.replacedAt)}</Table.Td>
                    <Table.Td>{revision.replacedBy}</Table.Td>
                    <Table.Th scope="row">{revision.characteristicName}<Text size="sm" c="dimmed">{can ? <CanName can={can} /> : null} · {check.positions[change.position]}</Text></Table.Th>
                    <Table.Td>{t('check.changed', { from: change.from === null ? t('check.missing') : format.number(change.from, revision.decimals), to: change.to === null ? t('check.gone') : format.number(change.to, revision.decimals), unit: revision.unit })}</Table.Td>
                    <Table.Td>{revision.reason}</Table.Td>
                  </Table.Tr>
                );
              }))}
            </Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
    </section>
  );
}

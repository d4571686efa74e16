import { Button, Group, Table, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { AnswerOf } from '#contract/endpoint';
import type { chartToUse, partOfVariation } from '#contract/workbench/choosing';
import type { Kind } from '../choices.js';
import type { Ground } from './panel-words.js';

type Parts = AnswerOf<typeof partOfVariation>;

/** How much of the variation comes from each level. */
export function VarianceResult({ answer, ground: { format, decimals, unit } }: { answer: Parts; ground: Ground }) {
  const { t } = useTranslation('workbench');
  const sigma = (variance: number) => { const value = Math.sqrt(variance); return unit === '' ? format.number(value, decimals + 2) : format.withUnit(value, decimals + 2, unit); };
  return (
    <>
      <Table.ScrollContainer minWidth={480}>
        <Table>
          <Table.Thead><Table.Tr>{(['source', 'sigma', 'share', 'interval', 'test'] as const).map((name) => <Table.Th key={name} scope="col">{t(`variance.${name}`)}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>
            {answer.components.map(({ level, variance, share, raw, interval, test, groups }) => (
              <Table.Tr key={level ?? ''}>
                <Table.Th scope="row">{level === null ? t('variance.within') : t('variance.level', { level, count: groups })}</Table.Th>
                <Table.Td>{sigma(variance)}{raw < 0 ? ` ${t('variance.cut')}` : ''}</Table.Td>
                <Table.Td>{share === null ? '–' : t('variance.percent', { value: format.number(share * 100, 1) })}</Table.Td>
                <Table.Td>{interval === null ? '–' : t('variance.between', { low: sigma(interval.low), high: sigma(interval.high) })}</Table.Td>
                <Table.Td>{test === null ? '–' : test.p < 0.001 ? t('variance.pBelow') : t('variance.p', { p: format.number(test.p, 3) })}</Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      <Text size="sm" c="dimmed">{t(answer.balanced ? 'variance.even' : 'variance.uneven')}</Text>
    </>
  );
}

/** Which chart suits and why, in one sentence. */
export function Recommended({ answer, kind, kinds, onKind, format }: { answer: AnswerOf<typeof chartToUse>; kind: Kind; kinds: readonly Kind[]; onKind: (kind: Kind) => void; format: Ground['format'] }) {
  const { t } = useTranslation('workbench');
  const { chart, reason, between } = answer;
  const share = between === null ? '' : format.number(between.share * 100, 0);
  return (
    <Group gap="sm">
      <Text>{t('recommend.says', { chart: t(`chart.kinds.${chart}`), reason: t(`recommend.reasons.${reason}`, { share }) })}</Text>
      {chart !== kind && kinds.includes(chart) ? <Button variant="default" size="md" onClick={() => onKind(chart)}>{t('recommend.take')}</Button> : null}
    </Group>
  );
}

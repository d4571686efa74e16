import { List, Stack, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { VerificationAnswer } from '#contract/incident-shapes';
import { useFormat } from './format.js';

const eventWords = (code: string) => code.replaceAll('-', ' ');
/** " H2 A" where unit or lane are kept apart. */
const partWords = ({ machineUnit, lane }: VerificationAnswer['stream']): string => [machineUnit, lane].flatMap((part) => (part === null ? [] : [` ${part}`])).join('');

/** Numbers of both sides, what the methods say, and what they cannot say. */
export function VerificationResult({ answer }: { answer: VerificationAnswer }) {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  const { stream, before, after, welch, permutation, ranks, size } = answer;
  const digits = stream.decimals + 1;
  const number = (value: number | null) => format.number(value, digits);
  const withUnit = (value: number) => format.withUnit(value, digits, stream.unit);
  const limit = (value: number | null) => format.withUnit(value, stream.decimals, stream.unit);
  const p = (value: number) => (value < 0.0001 ? t('verify.pSmall') : format.number(value, 4));
  const what = t('verify.about', { characteristic: stream.characteristic, machine: stream.machine, part: partWords(stream), product: stream.product });
  const columns: [head: string, cell: (side: typeof before) => string][] = [
    [t('verify.n'), (side) => String(side.n)], [t('verify.mean', { unit: stream.unit }), (side) => number(side.mean)], [t('verify.sd', { unit: stream.unit }), (side) => number(side.sd)],
    [t('verify.lowHigh', { unit: stream.unit }), (side) => `${number(side.low)} – ${number(side.high)}`], [t('verify.span'), (side) => `${format.dateTime(side.first)} – ${format.dateTime(side.last)}`],
    [t('verify.signalled'), (side) => t('verify.ofJudged', { signalled: side.signalled, judged: side.judged, notJudged: side.notJudged })],
  ];
  return (
    <Stack gap="xs" pb="sm">
      <Table.ScrollContainer minWidth={820}>
        <Table>
          <Table.Caption>{t('verify.caption', { what })}</Table.Caption>
          <Table.Thead><Table.Tr><Table.Th scope="col">{t('verify.side')}</Table.Th>{columns.map(([head]) => <Table.Th key={head} scope="col">{head}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>
            {([['before', before], ['after', after]] as const).map(([name, side]) => (
              <Table.Tr key={name}><Table.Th scope="row">{t(`verify.${name}`)}</Table.Th>{columns.map(([head, cell]) => <Table.Td key={head}>{cell(side)}</Table.Td>)}</Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      {stream.lsl === null && stream.usl === null ? null : <Text size="sm" c="dimmed">{t('verify.specification', { lsl: limit(stream.lsl), usl: limit(stream.usl), target: limit(stream.target) })}</Text>}
      {welch ? <Text fw={600}>{t('verify.difference', { difference: withUnit(welch.difference), low: withUnit(welch.low), high: withUnit(welch.high), p: p(welch.p) })}</Text> : null}
      {size ? <Text>{t('verify.size', { g: format.number(size.g, 2), low: format.number(size.low, 2), high: format.number(size.high, 2) })}</Text> : null}
      {permutation ? <Text>{t('verify.permutationSaid', { p: p(permutation.p), how: t(permutation.exact ? 'verify.exactly' : 'verify.random', { divisions: format.number(permutation.divisions, 0) }) })}</Text> : null}
      {ranks ? <Text>{t('verify.ranks', { p: p(ranks.p), delta: t('verify.percent', { value: format.number(100 * ranks.delta, 0) }) })}</Text> : null}
      <Text fw={600}>{t(`verify.control.${answer.afterControl}`, { signalled: after.signalled, judged: after.judged })}</Text>
      <section>
        <Title order={4} size="h5">{t('verify.cautionsTitle')}</Title>
        <List>{answer.cautions.map((caution) => <List.Item key={caution}>{t(`verify.caution.${caution}`)}</List.Item>)}</List>
      </section>
      {answer.otherEvents.length > 0 ? (
        <details>
          <summary style={{ padding: '8px 0' }}>{t('verify.others', { total: answer.otherEvents.length + answer.otherEventsLeftOut })}</summary>
          <List>{answer.otherEvents.map(({ id, at, kind, text }) => <List.Item key={id}>{t('verify.other', { at: format.dateTime(at), kind: eventWords(kind), text })}</List.Item>)}</List>
          {answer.otherEventsLeftOut > 0 ? <Text size="sm">{t('verify.othersLeftOut', { total: answer.otherEventsLeftOut })}</Text> : null}
        </details>
      ) : null}
    </Stack>
  );
}

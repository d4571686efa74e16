import { List, Stack, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { CheckView } from '#contract/inspections';
import { useFormat } from '../shared/format.js';
import { type Gap, teardownGaps } from './teardown-gaps.js';
import { weldTapers } from './weld-tapers.js';
import { usePlant } from '../shared/plant.queries.js';

/** What the trade reads out of a check beyond its numbers: the wedge of a weld, and what a teardown lacks. Nothing for other checks. */
export function CanMakingFacts({ check }: { check: CheckView }) {
  return <><WeldTapers check={check} /><TeardownGaps check={check} /></>;
}

function WeldTapers({ check }: { check: CheckView }) {
  const { t } = useTranslation('canMaking');
  const format = useFormat();
  const tapers = weldTapers(check);
  if (tapers === null || tapers.cans.length === 0) return null;
  const { decimals, unit } = tapers;
  const show = (value: number | null, digits = decimals) => format.withUnit(value, digits, unit);
  const signed = (value: number) => `${value > 0 ? '+' : ''}${show(value)}`;
  return (
    <Stack component="section" gap="xs" aria-labelledby="taper-title">
      <Title order={2} size="h4" id="taper-title">{t('taper.title')}</Title>
      <Text c="dimmed" maw={900}>{t('taper.text', { step: format.number(tapers.gaugeStep, decimals), unit })}</Text>
      {tapers.cans.every(({ taper }) => taper.wedge === 'none') ? <Text>{t('taper.none')}</Text> : null}
      <Table.ScrollContainer minWidth={620}>
        <Table verticalSpacing={4}>
          <Table.Thead><Table.Tr>{(['can', 'front', 'middle', 'back', 'difference', 'bow', 'shape'] as const).map((column) => <Table.Th key={column}>{t(`taper.${column}`)}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>
            {tapers.cans.map(({ number, lane, front, middle, back, taper }) => (
              <Table.Tr key={`${number}/${lane}`}>
                <Table.Td>{lane === null ? number : t('taper.half', { number, lane })}</Table.Td><Table.Td>{show(front)}</Table.Td><Table.Td>{show(middle)}</Table.Td><Table.Td>{show(back)}</Table.Td>
                <Table.Td>{signed(taper.difference)}</Table.Td><Table.Td>{taper.bow === null ? '–' : show(taper.bow, decimals + 1)}</Table.Td><Table.Td fw={taper.wedge === 'none' ? undefined : 600}>{t(`taper.shapes.${taper.wedge}`)}</Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      {tapers.unread > 0 ? <Text>{t('taper.unread', { count: tapers.unread })}</Text> : null}
    </Stack>
  );
}

function TeardownGaps({ check }: { check: CheckView }) {
  const { t } = useTranslation('canMaking');
  const format = useFormat();
  const plant = usePlant();
  const product = plant.data?.products.find(({ id }) => id === check.product.id);
  // Without the diameter the arc beside the weld is not known: nothing is said before it is there, or where the plant was not reached.
  const gaps = product ? teardownGaps(check, product.diameter) : null;
  if (gaps === null) return null;
  const nameOf = (code: string) => check.characteristics.find((entry) => entry.code === code)?.name ?? plant.data?.characteristics.find((entry) => entry.code === code)?.name ?? code.replaceAll('-', ' ');
  const words = ({ lack }: Gap) => {
    if (lack.kind === 'juncture-not-examined') return t(`teardown.juncture-not-examined.${lack.need}`);
    const what = nameOf(lack.characteristic);
    // What is judged once on the whole hook has no points.
    if (lack.kind === 'too-few-points' && lack.needs === 1) return t('teardown.not-judged', { what });
    return lack.kind === 'places-not-written' ? t('teardown.places-not-written', { what }) : t(`teardown.${lack.kind}`, { what, has: format.number(lack.has, 0), needs: format.number(lack.needs, 0) });
  };
  const cans = (names: readonly string[]) => (names.length === check.cans.length ? '' : ` (${t(names.length === 1 ? 'teardown.can' : 'teardown.cans', { list: names.join(', ') })})`);
  return (
    <Stack component="section" gap="xs" aria-labelledby="teardown-title">
      <Title order={2} size="h4" id="teardown-title">{t('teardown.title')}</Title>
      <Text c="dimmed" maw={900}>{t('teardown.text')} {t(`teardown.method.${gaps.method}`)}</Text>
      {gaps.rules.map(({ rule, source, gaps: lacks }) => (
        <div key={rule}>
          <Text fw={600}>{source}</Text>
          {lacks.length === 0 ? <Text>{t('teardown.complete')}</Text> : <List>{lacks.map((gap) => <List.Item key={JSON.stringify(gap.lack)}>{words(gap)}{cans(gap.cans)}</List.Item>)}</List>}
        </div>
      ))}
    </Stack>
  );
}

import { SimpleGrid, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { HoldArithmetic } from '#contract/holds';
import { useFormat } from '../shared/format.js';

/** The sums of a hold, each with what it rests on. */
export function ArithmeticView({ arithmetic }: { arithmetic: HoldArithmetic }) {
  const { t } = useTranslation('holds');
  const format = useFormat();
  const { question, cans, pallets } = arithmetic;
  const whole = (value: number) => format.number(value, 0);
  const span = ({ from, until }: { from: string; until: string }) => t('list.to', { from: format.dateTime(from), until: format.dateTime(until) });
  const moved = ({ shortestSeconds, longestSeconds }: { shortestSeconds: number; longestSeconds: number }) => shortestSeconds + longestSeconds > 0;
  const facts: [string, string][] = [
    [t('arithmetic.lastGood'), format.dateTime(question.from)], [t('arithmetic.firstBad'), question.firstBadAt === null ? t('arithmetic.none') : format.dateTime(question.firstBadAt)],
    [t('arithmetic.end', { basis: t(`form.basisNames.${question.untilBasis}`) }), format.dateTime(question.until)], [t('arithmetic.span'), t('arithmetic.minutes', { minutes: format.number(arithmetic.minutes, 1) })],
    ...(moved(question.back) ? [[t('arithmetic.atFault'), span(arithmetic.atFault)] as [string, string]] : []), [t('arithmetic.atPallets'), span(arithmetic.atPallets)],
    ...arithmetic.counted.map((one): [string, string] => [t('arithmetic.counted', { machine: one.machine }), one.uncoveredMinutes > 0 ? t('arithmetic.uncovered', { cans: whole(one.cans), minutes: format.number(one.uncoveredMinutes, 1) }) : t('arithmetic.cans', { cans: whole(one.cans) })]),
    ...(cans === null ? [] : [[t('arithmetic.share'), cans.shareOf === 1 ? t('arithmetic.shareAll') : t('arithmetic.shareOf', { share: cans.shareOf })], [t('arithmetic.suspect'), t('arithmetic.cans', { cans: whole(cans.suspect) })]] as [string, string][]),
    [t('arithmetic.pallets'), t('arithmetic.listed', { count: pallets.listed })],
  ];
  const notes = [
    ...(cans === null ? [t('arithmetic.noCounts')] : []), ...(arithmetic.openEnded ? [t('arithmetic.openEnded')] : []),
    ...(pallets.listed > pallets.withoutSpan && pallets.gapMinutes > 0.01 ? [t('arithmetic.gap', { minutes: format.number(pallets.gapMinutes, 1) })] : []),
    ...(pallets.outside.length > 0 ? [t('arithmetic.outside', { codes: pallets.outside.join(', ') })] : []), ...(pallets.withoutSpan > 0 ? [t('arithmetic.withoutSpan', { count: pallets.withoutSpan })] : []), t('arithmetic.whole'),
  ];
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('arithmetic.title')}</Title>
      <SimpleGrid component="dl" cols={{ base: 1, xs: 2, md: 4 }} m={0}>
        {facts.map(([label, value]) => <div key={label}><Text component="dt" size="sm" c="dimmed">{label}</Text><Text component="dd" m={0} fw={600}>{value}</Text></div>)}
      </SimpleGrid>
      <Stack gap={2} pt="sm">{notes.map((note) => <Text key={note} size="sm">{note}</Text>)}</Stack>
    </section>
  );
}

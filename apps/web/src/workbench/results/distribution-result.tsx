import { Grid, Table, Text, Title } from '@mantine/core';
import { useMemo } from 'react';
import { useTranslation } from 'react-i18next';
import type { AnswerOf } from '#contract/endpoint';
import type { fitDistributions, histogramOfValues, normality, probabilityPlotOfValues } from '#contract/workbench/capability';
import { Plot } from '../../shared/plot.js';
import { ComputationView } from '../compute/computation-view.js';
import type { Specification } from '../form/specification.js';
import { percentOf } from './capability-result.js';
import { histogramFigure, probabilityFigure } from './distribution.figure.js';
import { expectedCounts } from './expected-counts.js';
import type { Ground } from './panel-words.js';
import type { DistributionAnswers } from './use-distribution.js';

type Fits = AnswerOf<typeof fitDistributions>;
type Props = { distribution: DistributionAnswers; specification: Specification; name: string; confidence: number; ground: Ground };
const NO_LIMITS: Specification = { lsl: null, target: null, usl: null };

/** How the readings are spread, and which distribution describes them, if any does. */
export function DistributionResult({ distribution, specification, name, confidence, ground }: Props) {
  const { t } = useTranslation('workbench');
  const { histogram, plot, fits, normal, readings, family, bodies } = distribution;
  const axis = useMemo(() => { const said = name === '' ? t('distribution.reading') : name; return ground.unit === '' ? said : t('distribution.axis', { name: said, unit: ground.unit }); }, [name, ground.unit, t]);
  const n = readings?.length ?? 0;
  const what = t('distribution.what');
  return (
    <>
      <Grid gap="md">
        <Grid.Col span={{ base: 12, lg: 6 }}>
          <Title order={3} size="h5">{t('distribution.histogram')}</Title>
          <ComputationView computation={histogram} what={what}>{(answer) => <Histogram answer={answer} fits={fits.query.data} n={n} specification={specification} axis={axis} ground={ground} />}</ComputationView>
        </Grid.Col>
        <Grid.Col span={{ base: 12, lg: 6 }}>
          <Title order={3} size="h5">{t('distribution.plot', { family: t(`distribution.families.${family}`) })}</Title>
          <ComputationView computation={plot} what={what}>{(answer) => <ProbabilityPlot answer={answer} n={n} axis={axis} confidence={confidence} ground={ground} />}</ComputationView>
        </Grid.Col>
      </Grid>
      {bodies.normality === null ? <Text size="sm">{t('distribution.fewForTest')}</Text> : <ComputationView computation={normal} what={what}>{(answer) => <Normality answer={answer} ground={ground} />}</ComputationView>}
      {bodies['fit-distributions'] === null ? null : <ComputationView computation={fits} what={what}>{(answer) => <FitsTable answer={answer} ground={ground} />}</ComputationView>}
    </>
  );
}

function Histogram({ answer, fits, n, specification = NO_LIMITS, axis, ground: { format, decimals } }: { answer: AnswerOf<typeof histogramOfValues>; fits: Fits | undefined; n: number; specification: Specification; axis: string; ground: Ground }) {
  const { t } = useTranslation('workbench');
  const figure = useMemo(() => {
    const shown = fits?.candidates.find(({ family }) => family === (fits.chosen ?? 'normal'));
    const value = (number: number | null) => format.number(number, decimals);
    const family = t(`distribution.families.${shown?.family ?? 'normal'}`);
    return histogramFigure(answer, shown?.fit ? expectedCounts(shown.fit, answer.edges, n) : null, specification, {
      axis, count: t('distribution.count'), bars: t('distribution.bars'), outside: t('distribution.outside'), fit: t(fits?.chosen === null && fits.refusal === 'none-fits' ? 'distribution.fitRefused' : 'distribution.fit', { family }),
      lsl: t('distribution.lsl', { value: value(specification.lsl) }), usl: t('distribution.usl', { value: value(specification.usl) }), target: t('distribution.target', { value: value(specification.target) }),
      bin: (low, high, count) => t('distribution.bin', { low: format.number(low, decimals + 1), high: format.number(high, decimals + 1), count }),
    });
  }, [answer, fits, n, specification, axis, format, decimals, t]);
  return <Plot figure={figure} height={380} label={t('distribution.label', { count: n })} />;
}

function ProbabilityPlot({ answer, n, axis, confidence, ground: { format, decimals } }: { answer: AnswerOf<typeof probabilityPlotOfValues>; n: number; axis: string; confidence: number; ground: Ground }) {
  const { t } = useTranslation('workbench');
  const family = t(`distribution.families.${answer.fit.family}`);
  const figure = useMemo(() => probabilityFigure(answer, {
    axis, share: t('distribution.share'), points: t('distribution.points'), pointsOutside: t('distribution.pointsOutside'), line: t('distribution.line', { family }), band: t('distribution.band', { percent: percentOf(confidence) }),
    point: (value, share, low, high) => t('distribution.point', { value: format.number(value, decimals), share: format.number(share * 100, 2), low: format.number(low, decimals + 1), high: format.number(high, decimals + 1) }),
  }), [answer, axis, confidence, family, format, decimals, t]);
  return (
    <>
      <Plot figure={figure} height={380} label={t('distribution.plotLabel', { count: n, family, outside: answer.outside })} />
      {answer.leftOut > 0 ? <Text size="sm">{t('distribution.leftOut', { count: answer.leftOut })}</Text> : null}
    </>
  );
}

function usePWords(ground: Ground) {
  const { t } = useTranslation('workbench');
  return (p: number, isBound: boolean) => (isBound ? t('distribution.pBelow', { value: p }) : p < 0.001 ? t('distribution.pBelow', { value: 0.001 }) : t('distribution.pIs', { value: ground.format.number(p, 3) }));
}

function Normality({ answer: { andersonDarling: { a2, n, p, pIsUpperBound }, shape }, ground }: { answer: AnswerOf<typeof normality>; ground: Ground }) {
  const { t } = useTranslation('workbench');
  const pWords = usePWords(ground);
  return (
    <Text size="sm">
      {t(p < 0.05 ? 'distribution.notNormal' : 'distribution.normal', { a2: ground.format.number(a2, 3), n, p: pWords(p, pIsUpperBound) })} {t('distribution.skewness', { skewness: ground.format.number(shape.skewness, 2), excess: ground.format.number(shape.excess, 2) })}
    </Text>
  );
}

function FitsTable({ answer: { candidates, chosen, refusal, notToldApart }, ground }: { answer: Fits; ground: Ground }) {
  const { t } = useTranslation('workbench');
  const pWords = usePWords(ground);
  const { number } = ground.format;
  const ppm = (value: number | null | undefined) => number(value, value != null && value >= 100 ? 0 : 2);
  const others = notToldApart.filter((family) => family !== chosen);
  return (
    <>
      <Title order={3} size="h5">{t('distribution.fitsTitle')}</Title>
      <Text role="status">{chosen ? t('distribution.chosen', { family: t(`distribution.families.${chosen}`) }) : refusal ? t(`distribution.${refusal}`) : null}</Text>
      {chosen && others.length > 0 ? <Text size="sm">{t('distribution.alike', { families: others.map((family) => t(`distribution.families.${family}`)).join(', ') })}</Text> : null}
      <Table.ScrollContainer minWidth={600}>
        <Table>
          <Table.Thead><Table.Tr>{(['family', 'fitsWell', 'p', 'aic', 'ppk', 'expected'] as const).map((name) => <Table.Th key={name} scope="col">{t(`distribution.${name}`)}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>
            {candidates.map(({ family, gap, goodness, accepted, indices, expectedPpm, aicAboveBest }) => (
              <Table.Tr key={family}>
                <Table.Th scope="row">{t(`distribution.families.${family}`)}</Table.Th><Table.Td>{gap ? t(`distribution.gap.${gap}`) : t(goodness === null ? 'distribution.notTested' : accepted ? 'distribution.accepted' : 'distribution.refused')}</Table.Td>
                <Table.Td>{goodness ? pWords(goodness.p, goodness.pIsUpperBound) : '–'}</Table.Td><Table.Td>{number(aicAboveBest, 1)}</Table.Td><Table.Td>{accepted ? number(indices?.ppk, 2) : '–'}</Table.Td>
                <Table.Td>{accepted && expectedPpm ? t('distribution.sides', { below: ppm(expectedPpm.below), above: ppm(expectedPpm.above) }) : '–'}</Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
    </>
  );
}

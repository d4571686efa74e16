import { Paper, Text, Title } from '@mantine/core';
import { useMemo } from 'react';
import { useTranslation } from 'react-i18next';
import type { CapabilityEntry, CapabilityStudy } from '#contract/studies';
import { useFormat } from '../shared/format.js';
import { Plot } from '../shared/plot.js';
import { capabilityFigure } from './capability.figure.js';
import { rowName } from './study-words.js';

/** The distribution of one row, what it is compared with, and whether a normal curve describes it. */
export function CapabilityPicture({ study, entry }: { study: CapabilityStudy; entry: CapabilityEntry }) {
  const { t } = useTranslation('studies');
  const format = useFormat();
  const { characteristic: { name, unit, decimals }, specification } = study;
  const { histogram, normality, readingsOutside } = entry;
  const figure = useMemo(() => {
    if (!histogram) return null;
    const limit = (value: number | null | undefined) => format.number(value, decimals);
    return capabilityFigure(histogram, specification.used, {
      axis: t('picture.axis', { name, unit }), count: t(entry.basis === 'can' ? 'picture.cans' : 'picture.readings'), bars: t('picture.bars'), barsOutside: t('picture.barsOutside'), within: t('picture.within'), overall: t('picture.overall'),
      lsl: t('picture.lsl', { value: limit(specification.used?.lsl) }), usl: t('picture.usl', { value: limit(specification.used?.usl) }), target: t('picture.target', { value: limit(specification.used?.target) }),
      // Edges lie half a gauge step off the readings.
      bin: (low, high, count) => t('picture.bin', { low: format.number(low, decimals + 1), high: format.number(high, decimals + 1), unit, count }),
    });
  }, [histogram, specification.used, entry.basis, name, unit, decimals, format, t]);
  if (!figure) return null;
  const outside = (readingsOutside.below ?? 0) + (readingsOutside.above ?? 0);
  return (
    <Paper withBorder p="md" component="section" className="study-block">
      <Title order={2} size="h4">{t('picture.title', { row: rowName(t, entry) })}</Title>
      <Plot figure={figure} height={380} label={t('picture.label', { count: entry.n, low: format.number(entry.minimum, decimals), high: format.number(entry.maximum, decimals), unit, outside })} />
      {entry.figures ? <Text size="sm">{normality ? t(normality.wording === 'not-normal' ? 'picture.notNormal' : 'picture.normal', {
        a2: format.number(normality.a2, 3), n: normality.n, p: normality.pIsUpperBound ? t('picture.pBelow', { value: normality.p }) : normality.p < 0.001 ? t('picture.pBelow', { value: 0.001 }) : t('picture.pIs', { value: format.number(normality.p, 3) }),
      }) : t('picture.noTest')}</Text> : null}
    </Paper>
  );
}

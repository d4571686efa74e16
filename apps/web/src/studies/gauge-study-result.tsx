import { Alert, Button, List, Progress, Stack, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { StudyRecord } from '#contract/capability-studies';
import type { GaugeResult } from '#contract/gauge-studies';
import { useFormat } from '../shared/format.js';
import { GaugeAgreement } from './gauge-agreement.js';
import { GaugeBias } from './gauge-bias.js';
import { GaugeVariation } from './gauge-variation.js';

type Content = Extract<StudyRecord['content'], { kind: 'gauge' }>;

/** The plan and, once the sheet is closed, verdict, figures and readings; until then only how far it is. */
export function GaugeStudyResult({ id, state, content: { plan, taken, of, result } }: { id: number; state: StudyRecord['state']; content: Content }) {
  const { t } = useTranslation('studyRecords');
  return (
    <Stack gap="md">
      <Text>{t(plan.design === 'bias' ? 'result.planTextBias' : 'result.planText', { people: plan.people.length, parts: plan.parts.length, count: plan.repeats, seed: plan.seed })} {t(`plan.designs.${plan.design}`)}.</Text>
      {state === 'measuring' ? (
        <Stack gap="xs" maw={480}>
          <Text>{t('result.progress', { taken, of })}</Text>
          <Progress value={(100 * taken) / of} aria-label={t('result.progress', { taken, of })} />
          <Button component={Link} to={`/studies/${id}/sheet`} size="md" w="max-content" className="no-print">{t('result.open')}</Button>
        </Stack>
      ) : null}
      {result ? <><Verdict result={result} />{result.measured ? <GaugeVariation plan={plan} result={result} measured={result.measured} /> : null}{result.bias ? <GaugeBias plan={plan} bias={result.bias} /> : null}{result.rated ? <GaugeAgreement rated={result.rated} /> : null}<Readings plan={plan} result={result} /></> : null}
    </Stack>
  );
}

const figureDecimals = { 'of-tolerance': 1, 'of-study': 1, categories: 0, kappa: 3 } as const;

function Verdict({ result: { verdict, judged, thresholds, cautions, bias } }: { result: GaugeResult }) {
  const { t } = useTranslation('studyRecords');
  const format = useFormat();
  const percent = (share: number) => format.number(100 * share, 1);
  const shown = ({ figure, value }: GaugeResult['judged'][number]) => format.number(figure === 'of-tolerance' || figure === 'of-study' ? 100 * value : value, figureDecimals[figure]);
  return (
    <Alert color="gray" title={verdict ? t('result.verdictTitle', { verdict: t(`verdict.${verdict}`) }) : bias ? t(!bias.unbiased ? 'bias.shown' : cautions.includes('bias-at-master') ? 'bias.unclear' : 'bias.notShown') : t('result.noVerdict')}>
      <List>{judged.map((one) => <List.Item key={one.figure}>{t(`result.judged.${one.figure}`, { value: shown(one), verdict: t(`verdict.${one.verdict}`) })}</List.Item>)}</List>
      {bias ? null : <Text size="sm" py="xs">{t('result.thresholds', { accept: percent(thresholds.gaugeAccept), reject: percent(thresholds.gaugeReject), categories: thresholds.categories, kappaAccept: thresholds.kappaAccept, kappaReject: thresholds.kappaReject, source: thresholds.source })}</Text>}
      {cautions.length > 0 ? <><Title order={3} size="h5">{t('result.cautionsTitle')}</Title><List>{cautions.map((caution) => <List.Item key={caution}>{t(`result.cautions.${caution}`)}</List.Item>)}</List></> : null}
    </Alert>
  );
}

function Readings({ plan, result: { readings } }: { plan: Content['plan']; result: GaugeResult }) {
  const { t } = useTranslation('studyRecords');
  const format = useFormat();
  const { scale } = plan;
  const word = (value: number) => (scale === null ? format.number(value, plan.decimals) : String(scale.kind === 'ordinal' ? scale.grades[value] : scale.categories[value]));
  return (
    <details>
      <summary style={{ padding: '8px 0' }}>{t('result.readings', { unit: plan.unit })}</summary>
      <Table>
        <Table.Thead><Table.Tr>{(['person', 'part', 'values'] as const).map((name) => <Table.Th key={name} scope="col">{t(`result.${name}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>{readings.map(({ person, part, values }) => <Table.Tr key={`${person} ${part}`}><Table.Td>{plan.people[person]}</Table.Td><Table.Td>{plan.parts[part]}</Table.Td><Table.Td>{values.map(word).join(' · ')}</Table.Td></Table.Tr>)}</Table.Tbody>
      </Table>
    </details>
  );
}

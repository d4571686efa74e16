import { Button, Group, Stack, Table, Text, Title } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { DefectEntry } from '#contract/knowledge';
import { listOriginWeights, type OriginWeightsVersion } from '#contract/origin-weights';
import { CompareVersions } from '../shared/compare-versions.js';
import { useDefects } from '../shared/defects.queries.js';
import { useFormat } from '../shared/format.js';
import { call } from '../shared/http.js';
import { DefectSelect } from '../shared/defect-select.js';
import { QueryView } from '../shared/states.js';
import { useStepWord } from '../shared/step-word.js';
import { OriginWeightsForm } from './origin-weights-form.js';

/** Where defects begin: the shares of the trade beside those of the plant, with every version of them. */
export function OriginWeightsSection({ mayChange }: { mayChange: boolean }) {
  const { t } = useTranslation('originWeights');
  const versions = useQuery({ queryKey: ['origin-weights'], queryFn: ({ signal }) => call(listOriginWeights, { signal }) });
  const defects = useDefects();
  return (
    <Stack gap="md">
      <Text c="dimmed" maw={900}>{t('text')}</Text>
      <QueryView query={defects} what={t('loading')}>{(taxonomy) => (
        <QueryView query={versions} what={t('loading')}>{(known) => <Content defects={taxonomy.defects} versions={known.versions} mayChange={mayChange} />}</QueryView>
      )}</QueryView>
    </Stack>
  );
}

function Content({ defects, versions, mayChange }: { defects: readonly DefectEntry[]; versions: readonly OriginWeightsVersion[]; mayChange: boolean }) {
  const { t } = useTranslation('originWeights');
  const own = defects.filter(({ code }) => (versions.find(({ defect }) => defect === code)?.origins.length ?? 0) > 0);
  const [chosen, setChosen] = useState<string>(() => own[0]?.code ?? '');
  const defect = defects.find(({ code }) => code === chosen);
  return (
    <>
      <Text>{own.length === 0 ? t('ownNone') : t('own', { names: own.map(({ name }) => name).join(', ') })}</Text>
      <DefectSelect label={t('defect')} choose={t('choose')} defects={defects} value={chosen} onChange={setChosen} />
      {defect ? <OfDefect key={defect.code} defect={defect} versions={versions.filter((version) => version.defect === defect.code)} mayChange={mayChange} /> : null}
    </>
  );
}

function OfDefect({ defect, versions, mayChange }: { defect: DefectEntry; versions: readonly OriginWeightsVersion[]; mayChange: boolean }) {
  const { t } = useTranslation('originWeights');
  const format = useFormat();
  const stepWord = useStepWord();
  const [writing, setWriting] = useState(false);
  const [newest] = versions;
  const own = newest && newest.origins.length > 0 ? newest.origins : [];
  const keyOf = ({ step, units }: { step: string; units: string }) => `${step}/${units}`;
  const rows = [...new Map([...defect.origins, ...own].map((origin) => [keyOf(origin), origin])).values()];
  const percent = (origins: readonly { step: string; units: string; weight: number }[], row: { step: string; units: string }) => {
    const found = origins.find((origin) => keyOf(origin) === keyOf(row));
    return found ? t('percent', { percent: format.number(found.weight * 100, 1) }) : t('none');
  };
  const said = ({ step, units, weight }: OriginWeightsVersion['origins'][number]) => t('of', { step: stepWord(step), part: t(`parts.${units}`), percent: format.number(weight * 100, 1) });
  return (
    <Stack gap="md">
      <Title order={3} size="h5">{t('table', { name: defect.name })}</Title>
      <Text>{own.length > 0 && newest ? t('inForce.plant', { version: newest.version, author: newest.author, at: format.dateTime(newest.at), reason: newest.reason }) : t('inForce.trade')}</Text>
      <Table.ScrollContainer minWidth={560}>
        <Table aria-label={t('table', { name: defect.name })} verticalSpacing="xs">
          <Table.Thead><Table.Tr>{(['step', 'part', 'trade', 'plant'] as const).map((head) => <Table.Th key={head} scope="col">{t(head)}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>{rows.map((row) => <Table.Tr key={keyOf(row)}><Table.Th scope="row">{stepWord(row.step)}</Table.Th><Table.Td>{t(`parts.${row.units}`)}</Table.Td><Table.Td>{percent(defect.origins, row)}</Table.Td><Table.Td>{percent(own, row)}</Table.Td></Table.Tr>)}</Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      {mayChange ? <Group><Button size="md" onClick={() => setWriting(true)}>{t('write')}</Button></Group> : null}
      {versions.length < 2 ? null : <CompareVersions title={t('compare')} versions={versions.map(({ version, origins, author, at, reason }) => ({ key: String(version), label: t('version', { version }), author, at, reason, fields: { retired: origins.length === 0, origins: origins.map(said) } }))} />}
      {writing ? <OriginWeightsForm defect={defect} newest={newest ?? null} onClose={() => setWriting(false)} /> : null}
    </Stack>
  );
}

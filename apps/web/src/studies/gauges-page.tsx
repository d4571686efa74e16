import { Button, Stack, Table, Text, Anchor } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { GaugeStanding } from '#contract/gauge-standing';
import { correctors } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { useGaugeStandings } from '../shared/gauge-standings.queries.js';
import { useMay } from '../shared/session.js';
import { type State, StateBadge } from '../shared/state-badge.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { CalibrationDialog } from './calibration-dialog.js';
import { ThresholdsSection } from './thresholds-section.js';

const STATES: Record<GaugeStanding['calibration'], State> = { 'in-calibration': 'steady', overdue: 'due', failed: 'signal', 'not-known': 'not-judged', 'no-gauge': 'not-judged' };

/** How each gauge stands: its calibration now, and for which characteristics it is proved. */
export function GaugesPage() {
  const { t } = useTranslation('studyRecords');
  const format = useFormat();
  const query = useGaugeStandings();
  const mayRecord = useMay(correctors);
  const [open, setOpen] = useState<{ id: number; code: string } | null>(null);
  return (
    <Page title={t('gaugesPage.title')}>
      <Stack gap="lg">
        <QueryView query={query} what={t('gaugesPage.loading')} isEmpty={({ gauges }) => gauges.length === 0} empty={<EmptyState title={t('gaugesPage.empty')} text={t('gaugesPage.emptyText')} />}>
          {({ gauges }) => (
            <Table.ScrollContainer minWidth={820}>
              <Table striped verticalSpacing="xs">
                <Table.Thead><Table.Tr>{(['gauge', 'calibration', 'due', 'studies', 'record'] as const).map((name) => <Table.Th key={name} scope="col">{t(`gaugesPage.${name}`)}</Table.Th>)}</Table.Tr></Table.Thead>
                <Table.Tbody>
                  {gauges.map(({ id, code, name, calibration, certificate, dueAt, studies }) => (
                    <Table.Tr key={id}>
                      <Table.Th scope="row">{code} {name}</Table.Th>
                      <Table.Td><StateBadge state={STATES[calibration]} word={t(`standing.calibration.${calibration}`)} />{certificate ? <Text size="sm">{t('standing.certificate', { certificate })}</Text> : null}{calibration === 'failed' ? <Text size="sm" fw={600}>{t('gaugesPage.failedHint')}</Text> : null}</Table.Td>
                      <Table.Td>{dueAt ? format.date(dueAt) : '–'}</Table.Td>
                      <Table.Td>{studies.length === 0 ? t('gaugesPage.none') : studies.map((study) => <div key={study.id}><Anchor component={Link} underline="always" to={`/studies/${study.id}`}>{t('gaugesPage.entry', { characteristic: study.characteristic, id: study.id, verdict: study.verdict ? t(`verdict.${study.verdict}`) : study.design === 'bias' ? t(study.unbiased ? 'bias.notShown' : 'bias.shown') : t('standing.unjudged') })}</Anchor></div>)}</Table.Td>
                      <Table.Td>{mayRecord ? <Button size="md" variant="default" aria-label={t('gaugesPage.act', { code })} onClick={() => setOpen({ id, code })}>{t('gaugesPage.record')}</Button> : null}</Table.Td>
                    </Table.Tr>
                  ))}
                </Table.Tbody>
              </Table>
            </Table.ScrollContainer>
          )}
        </QueryView>
        <ThresholdsSection />
      </Stack>
      {open ? <CalibrationDialog gauge={open} onClose={() => setOpen(null)} /> : null}
    </Page>
  );
}

import { Alert, Anchor, Button, Group, Stack, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link, useParams } from 'react-router';
import type { CheckView } from '#contract/inspections';
import { correctors, recorders } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { RecordSignatures } from '../shared/record-signatures.js';
import { useMay } from '../shared/session.js';
import { StateBadge } from '../shared/state-badge.js';
import { NotForAuditors } from '../shared/not-for-auditors.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { WeldPositionsOfCheck } from '../shared/weld-positions.js';
import { CanMakingFacts } from './can-making-facts.js';
import { CheckFacts } from './check-facts.js';
import { CheckPhotos } from './check-photos.js';
import { CheckRevisions } from './check-revisions.js';
import { CorrectDialog } from './correct-dialog.js';
import { FloorVerdict } from './floor-verdict.js';
import { useCheck } from './inspections.queries.js';
import { type ChosenReading, ReadingsTable } from './readings-table.js';
import { streamChart } from './stream-chart.js';
import { VerdictTable } from './verdict-table.js';

export function CheckPage() {
  const { t } = useTranslation('inspections');
  const id = Number(useParams()['id']);
  const query = useCheck(id);
  const mayRecord = useMay(recorders);
  const again = query.data && mayRecord ? <Anchor component={Link} to={`/log?machine=${query.data.machine.id}&product=${query.data.product.id}`}>{t('check.logAnother')}</Anchor> : null;
  return (
    <Page title={t('check.title', { id })} actions={again}>
      <QueryView query={query} what={t('check.loading')}>{(check) => <Content check={check} />}</QueryView>
    </Page>
  );
}

function Content({ check }: { check: CheckView }) {
  const { t } = useTranslation('inspections');
  const format = useFormat();
  const mayCorrect = useMay(correctors) && check.voidedAt === null && check.characteristics.length > 0;
  const [correcting, setCorrecting] = useState(false);
  const [chosen, setChosen] = useState<ChosenReading | null>(null);
  const [notRecomputed, setNotRecomputed] = useState<string[] | null>(null);
  const nameOf = (code: string) => check.characteristics.find((entry) => entry.code === code)?.name ?? code;
  return (
    <Stack gap="lg">
      {check.voidedAt === null ? null : <Alert color="gray" title={t('check.voidedTitle')}>{t('check.voidedText', { at: format.dateTime(check.voidedAt) })}</Alert>}
      <CheckFacts check={check} />
      {check.verdict === null ? null : (
        <section aria-labelledby="verdict-title">
          <Group gap="md"><Title order={2} size="h4" id="verdict-title">{t('verdict.title')}</Title><StateBadge state={check.verdict.status} /></Group>
          <NotForAuditors><FloorVerdict checkId={check.id} /></NotForAuditors>
          <VerdictTable subgroups={check.verdict.subgroups} chart={streamChart} />
        </section>
      )}
      <section aria-labelledby="readings-title">
        <Group gap="md" mb="xs">
          <Title order={2} size="h4" id="readings-title">{t('check.readings')}</Title>
          {mayCorrect ? <Button variant="default" aria-pressed={correcting} onClick={() => setCorrecting(!correcting)}>{correcting ? t('check.stopCorrecting') : t('check.correct')}</Button> : null}
        </Group>
        {correcting ? <Text mb="xs">{t('check.correctHelp')}</Text> : null}
        {notRecomputed === null ? null : <Text mb="xs" role="status">{t('correction.stored')}{notRecomputed.length === 0 ? null : ` ${t('correction.notRecomputed', { names: notRecomputed.map(nameOf).join(', ') })}`}</Text>}
        {check.characteristics.length === 0 ? <EmptyState title={t('check.empty')} text={t('check.emptyText')} /> : <ReadingsTable check={check} {...(correcting && mayCorrect ? { onChoose: setChosen } : {})} />}
      </section>
      <NotForAuditors><WeldPositionsOfCheck checkId={check.id} /></NotForAuditors>
      <CheckPhotos check={check} />
      <CanMakingFacts check={check} />
      <CheckRevisions check={check} />
      <RecordSignatures kind="check" recordId={check.id} />
      {chosen ? <CorrectDialog checkId={check.id} chosen={chosen} onClose={() => setChosen(null)} onStored={(codes) => { setNotRecomputed(codes); setChosen(null); setCorrecting(false); }} /> : null}
    </Stack>
  );
}

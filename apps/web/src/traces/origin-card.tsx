import { Anchor, Button, Card, Group, List, Progress, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { investigators } from '#contract/roles';
import type { Trace, TraceFinding, TraceOrigin } from '#contract/traces';
import { useFormat } from '../shared/format.js';
import { useMay } from '../shared/session.js';
import { findingWords, partOf, sharePercent, timesWords, whereOf } from './origin-words.js';
import type { TraceSubject } from './trace-subject.js';
import { SuspectLines } from './suspect-lines.js';

/** One place of the ranking: how likely, why, what would settle it, and what is suspect if it is true. */
export function OriginCard({ origin, place, trace, subject, chosen = false, onAct }: { origin: TraceOrigin; place: number; trace: Trace; subject: TraceSubject; chosen?: boolean; onAct?: (() => void) | undefined }) {
  const { t } = useTranslation('traces');
  const format = useFormat();
  const mayAct = useMay(investigators);
  return (
    <Card withBorder component="article" aria-labelledby={`origin-${place}`}>
      <Stack gap="sm">
        <Group justify="space-between" wrap="nowrap" align="flex-start">
          <Title order={3} size="h4" id={`origin-${place}`}>{t('rank', { place: place + 1, where: whereOf(t, origin) })}</Title>
          <Text fw={700} size="xl" style={{ fontVariantNumeric: 'tabular-nums', whiteSpace: 'nowrap' }}>{t('share', { percent: sharePercent(origin.share) })}</Text>
        </Group>
        <Progress value={origin.share * 100} size="sm" color="gray" aria-label={t('shareWord')} />
        {chosen ? <Text fw={600}>{t('kept.chosen')}</Text> : null}
        {origin.lot ? <Text>{origin.lot.until === null ? t('lots.open', { from: format.dateTime(origin.lot.from) }) : t('lots.span', { from: format.dateTime(origin.lot.from), until: format.dateTime(origin.lot.until) })}</Text> : null}
        {origin.enoughData ? null : <Text fw={600}>{t('notEnough')}</Text>}
        <section>
          <Text fw={600}>{t('evidence')}</Text>
          <List spacing={4}>{origin.findings.map((finding) => <List.Item key={keyOf(finding)}><Sentence finding={finding} trace={trace} /></List.Item>)}</List>
        </section>
        <section>
          <Text fw={600}>{t('confirm')}</Text>
          <Text>{t(`confirmBy.${origin.pattern}`, { part: partOf(t, origin) })}</Text>
          {trace.howToCheck ? <Text>{t('check', { text: trace.howToCheck })}</Text> : null}
        </section>
        <SuspectLines origin={origin} lineId={trace.line.id} subject={subject} />
        {mayAct && onAct ? <Group><Button variant="default" size="md" onClick={onAct}>{t('act.do')}</Button></Group> : null}
      </Stack>
    </Card>
  );
}

function Sentence({ finding, trace }: { finding: TraceFinding; trace: Trace }) {
  const { t } = useTranslation('traces');
  const format = useFormat();
  const { t: weights } = useTranslation('originWeights');
  const words = finding.kind === 'taxonomy' && trace.weights ? weights('finding', { percent: Math.round(finding.share * 100), version: trace.weights.version }) : findingWords(t, format, finding, trace.streams);
  if (finding.kind === 'signals') return <Text>{words}{finding.signalIds.map((id) => <Anchor key={id} component={Link} to={`/signals/${id}`} underline="always" pe="xs">{id}</Anchor>)}</Text>;
  const stream = 'streamIds' in finding ? finding.streamIds[0] : undefined;
  return (
    <Text>
      {stream === undefined ? words : <Anchor component={Link} to={`/charts?stream=${stream}`} underline="always" c="inherit">{words}</Anchor>}
      {'times' in finding ? <Text span c="dimmed" ps="xs">{timesWords(t, finding.times)}</Text> : null}
    </Text>
  );
}

const keyOf = (finding: TraceFinding): string => [finding.kind, 'characteristic' in finding ? finding.characteristic : '', 'plan' in finding ? finding.plan : '', 'of' in finding ? finding.of : ''].join(' ');

import { Anchor, Group, Paper, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { incidentStates } from '#contract/incident-shapes';
import type { NowBoard } from '#contract/signals';
import { useFormat } from '../shared/format.js';
import { ageOf } from '../shared/signal-words.js';
import { StateBadge } from '../shared/state-badge.js';

/** What people left undone: incidents whose next step is late, and product that is kept back. Nothing is shown where there is none. */
export function NowKept({ board: { at, overdue, holds } }: { board: NowBoard }) {
  const { t } = useTranslation('plant');
  const { t: life } = useTranslation('incidentLife');
  const { t: words } = useTranslation('holds');
  const format = useFormat();
  const late = (dueAt: string) => { const age = ageOf(Math.max(0, Math.floor((Date.parse(at) - Date.parse(dueAt)) / 60_000))); return t(`now.${age.key}`, age.values); };
  const nextOf = (state: NowBoard['overdue'][number]['state']) => life(`state.${incidentStates[incidentStates.indexOf(state) + 1] ?? 'closed'}`);
  const cans = (hold: NowBoard['holds'][number]) => (hold.suspectCans === null ? t('now.holdNoCans') : t(hold.openEnded ? 'now.holdCansOpen' : 'now.holdCans', { cans: format.number(hold.suspectCans, 0) }));
  return (
    <>
      {overdue.length > 0 ? (
        <Paper withBorder p="md" component="section">
          <Title order={2} size="h4">{t('now.overdueTitle')}</Title>
          {overdue.map(({ id, customer, defect, line, state, dueAt }) => (
            <div key={id}>
              <Text mt="sm"><StateBadge state="due" word={t('now.overdueWord')} /> <Anchor component={Link} to={`/incidents/${id}`} fw={600}>{t('now.overdueFor', { id, defect, customer })}</Anchor></Text>
              <Text size="sm" c="dimmed">{t('now.overdueBy', { line, next: nextOf(state), at: format.dateTime(dueAt), age: late(dueAt) })}</Text>
            </div>
          ))}
        </Paper>
      ) : null}
      {holds.length > 0 ? (
        <Paper withBorder p="md" component="section">
          <Group justify="space-between"><Title order={2} size="h4">{t('now.holdsTitle')}</Title><Anchor component={Link} to="/holds">{t('now.allHolds')}</Anchor></Group>
          {holds.map((hold) => (
            <div key={hold.id}>
              <Text mt="sm"><StateBadge state={hold.state === 'proposed' ? 'due' : 'held'} word={words(`state.${hold.state}`)} /> <Anchor component={Link} to={`/holds/${hold.id}`} fw={600}>{t('now.holdFor', { id: hold.id, where: [hold.line, hold.machine, hold.unit, hold.lane].filter(Boolean).join(' ') })}</Anchor></Text>
              <Text size="sm" c="dimmed">{t('now.holdSpan', { from: format.dateTime(hold.from), until: format.dateTime(hold.until) })} · {cans(hold)}</Text>
            </div>
          ))}
        </Paper>
      ) : null}
    </>
  );
}

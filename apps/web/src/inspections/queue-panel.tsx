import { Alert, Anchor, Button, Group, List, Stack, Text, Title } from '@mantine/core';
import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { useFormat } from '../shared/format.js';
import { ProblemError } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { usePerson } from '../shared/session.js';
import { StateBadge } from '../shared/state-badge.js';
import { newKey } from './new-key.js';
import { dropPhotosOf } from './photo-store.js';
import type { QueueItem } from './queue-item.js';
import { forgetJudged, useOthersQueued, useQueue } from './queue.queries.js';
import { runQueue } from './queue-runner.js';
import { changeQueued, removeQueued } from './queue-store.js';

/** Checks on their way from this browser, each with its state and, where one came back, the ways on. Absent while there is none. */
export function QueuePanel({ takeBack }: { takeBack: (item: QueueItem) => 'taken' | 'changed' | 'occupied' }) {
  const { t } = useTranslation('queue');
  const person = usePerson();
  const items = useQueue(person.id).data ?? [];
  const others = useOthersQueued(person.id).data ?? [];
  if (items.length + others.length === 0) return null;
  const stored = items.filter(({ state }) => state === 'stored');
  return (
    <section aria-labelledby="queue-title">
      <Stack gap="sm">
        <Title order={2} size="h4" id="queue-title">{t('title')}</Title>
        <ul className="queue-list">{items.map((item) => <QueueRow key={item.place} item={item} takeBack={takeBack} />)}</ul>
        {stored.length > 0 ? <Group><Button variant="default" size="md" onClick={() => { for (const { place } of stored) void removeQueued(place); }}>{t('clearStored', { count: stored.length })}</Button></Group> : null}
        {others.map(({ name, count }) => <Text key={name} size="sm" c="dimmed">{t('others', { name, count })}</Text>)}
      </Stack>
    </section>
  );
}

function QueueRow({ item, takeBack }: { item: QueueItem; takeBack: (item: QueueItem) => 'taken' | 'changed' | 'occupied' }) {
  const { t } = useTranslation('queue');
  const format = useFormat();
  return (
    <li className="queue-row" data-state={item.state}>
      <Group justify="space-between" gap="md">
        <div>
          <Text fw={600}>{t('row', item.label)}</Text>
          <Text size="sm" c="dimmed">{t('picked', { at: format.dateTime(item.check.takenAt), entered: format.dateTime(item.addedAt), cans: item.check.cans.length })}</Text>
        </div>
        <Group gap="sm">
          <Text fw={600}>{t(`states.${item.state}`)}</Text>
          {item.verdict ? <StateBadge state={item.verdict.status} /> : null}
          {item.verdict ? <Anchor component={Link} to={`/checks/${item.verdict.checkId}`}>{t('open', { id: item.verdict.checkId })}</Anchor> : null}
        </Group>
      </Group>
      {item.state === 'needs-you' ? <Returned item={item} takeBack={takeBack} /> : null}
    </li>
  );
}

/** Why it came back, what was measured, and what may be done. Nothing is thrown away without two steps. */
function Returned({ item, takeBack }: { item: QueueItem; takeBack: (item: QueueItem) => 'taken' | 'changed' | 'occupied' }) {
  const { t } = useTranslation('queue');
  const person = usePerson();
  const client = useQueryClient();
  const [said, setSaid] = useState<'changed' | 'occupied' | null>(null);
  const [sure, setSure] = useState(false);
  const { conflict } = item;
  const code = conflict?.kind === 'refused' ? conflict.problem.code : null;
  const again = async (change: Parameters<typeof changeQueued>[1]) => { await changeQueued(item.place, { state: 'waiting', conflict: null, ...change }); await runQueue(person.id); await forgetJudged(client); };
  const asNew = () => { const key = newKey(); return again({ key, check: { ...item.check, key } }); };
  const back = () => { const outcome = takeBack(item); if (outcome !== 'taken') setSaid(outcome); };
  return (
    <Alert color="gray" role="alert" title={t('returned.title')}>
      <Stack gap="sm" align="flex-start">
        {conflict?.kind === 'changed' ? <List>{conflict.what.map((what) => <List.Item key={what}>{t(`changed.${what}`)}</List.Item>)}</List> : null}
        {conflict?.kind === 'refused' ? <ProblemList error={new ProblemError(conflict.problem)} /> : null}
        {conflict?.kind === 'unreadable' ? <Text>{t('returned.unreadable')}</Text> : null}
        <details>
          <summary className="queue-summary">{t('returned.readings')}</summary>
          <List>{item.check.characteristics.map((entry) => <List.Item key={entry.code}>{t('returned.line', { code: entry.code, readings: entry.readings.map((reading) => (reading === null ? '–' : String(reading))).join(' ') })}</List.Item>)}</List>
        </details>
        <Group>
          {conflict?.kind === 'changed' ? <Button size="md" onClick={() => void again({ accepted: true })}>{t('act.sendAsIs')}</Button> : null}
          {code === 'implausible-reading' ? <Button size="md" onClick={() => void again({ check: { ...item.check, confirmed: true } })}>{t('act.asMeasured')}</Button> : null}
          {code === 'key-reused' ? <Button size="md" onClick={() => void asNew()}>{t('act.asNew')}</Button> : null}
          {conflict?.kind === 'unreadable' || (code !== null && code !== 'implausible-reading' && code !== 'key-reused') ? <Button size="md" onClick={() => void again({})}>{t('act.again')}</Button> : null}
          <Button size="md" variant="default" onClick={back}>{t('act.takeBack')}</Button>
          {sure ? <Button size="md" variant="default" onClick={() => void dropPhotosOf(item.key).then(() => removeQueued(item.place))}>{t('act.sure')}</Button> : <Button size="md" variant="default" onClick={() => setSure(true)}>{t('act.discard')}</Button>}
        </Group>
        {said === null ? null : <Text role="status">{t(`notTaken.${said}`)}</Text>}
      </Stack>
    </Alert>
  );
}

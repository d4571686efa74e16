import { Button, Group, Stack, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { originKey, refOf } from '#contract/trace-places';
import type { Trace, TraceOrigin } from '#contract/traces';
import { OriginCard } from './origin-card.js';
import { sharePercent } from './origin-words.js';
import type { TraceSubject } from './trace-subject.js';

const FIRST = 3;
/** Below this share no place is named as the likely one. */
const STANDS_OUT = 0.4;

/** The places, likeliest first; `onAll` asks for those beyond the ones at hand. `chosen` is the place that a person acted on. */
export function Ranking({ trace, subject, chosen = null, onAct, onAll }: { trace: Trace; subject: TraceSubject; chosen?: number | null; onAct?: (origin: TraceOrigin, place: number) => void; onAll?: () => void }) {
  const { t } = useTranslation('traces');
  const [more, setMore] = useState(chosen !== null && chosen >= FIRST);
  const [best] = trace.origins;
  const beyond = trace.places - trace.origins.length;
  const shown = trace.origins.slice(0, more ? undefined : FIRST);
  const others = trace.origins.slice(shown.length).reduce((sum, { share }) => sum + share, trace.others);
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('origins')}</Title>
      <Stack gap="md">
        {best && best.share < STANDS_OUT ? <Text role="status">{t('undecided', { percent: Math.round(best.share * 100) })}</Text> : null}
        {shown.map((origin, place) => (
          <OriginCard key={originKey(refOf(origin))} origin={origin} place={place} trace={trace} subject={subject} chosen={place === chosen} onAct={onAct ? () => onAct(origin, place) : undefined} />
        ))}
        <Group>
          {trace.origins.length > FIRST ? <Button variant="default" size="md" onClick={() => setMore(!more)}>{more ? t('fewer') : t('more')}</Button> : null}
          {more && onAll && beyond > 0 ? <Button variant="default" size="md" onClick={onAll}>{t('all', { count: trace.places })}</Button> : null}
          {trace.places > shown.length || others > 0.005 ? <Text c="dimmed">{t('others', { percent: sharePercent(others) })}</Text> : null}
        </Group>
      </Stack>
    </section>
  );
}

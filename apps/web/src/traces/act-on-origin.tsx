import { Button, Group, List, Modal, Stack, Text, Textarea } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { originKey, refOf, type Standing, standsOtherwise } from '#contract/trace-places';
import type { Trace, TraceOrigin } from '#contract/traces';
import { ProblemError } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { sharePercent, whereOf } from './origin-words.js';
import type { TraceSubject } from './trace-subject.js';
import { useKeepTrace } from './traces.queries.js';

/** Keeps the ranking with what a person does about one of its places: as it was seen, or not at all. What was typed stays when the ranking changes meanwhile. */
export function ActOnOrigin({ subject, defect, trace, acting: { origin, place: openedAt }, onClose }: { subject: TraceSubject; defect?: string | undefined; trace: Trace; acting: { origin: TraceOrigin; place: number }; onClose: () => void }) {
  const { t } = useTranslation('traces');
  const [comment, setComment] = useState('');
  const [seen, setSeen] = useState<Standing>({ place: openedAt, share: origin.share });
  const keep = useKeepTrace(subject, defect);
  const place = trace.origins.findIndex((other) => originKey(refOf(other)) === originKey(refOf(origin)));
  const now = place < 0 ? null : { place, share: trace.origins[place]?.share ?? 0 };
  const changed = now === null || standsOtherwise(seen, now);
  const refusedAsChanged = keep.error instanceof ProblemError && keep.error.problem.code === 'changed-meanwhile';
  const save = (event: FormEvent) => {
    event.preventDefault();
    keep.mutate({ chosen: { ...refOf(origin), ...seen }, comment }, { onSuccess: onClose });
  };
  return (
    <Modal opened onClose={onClose} title={t('act.title', { where: whereOf(t, origin) })} closeButtonProps={{ 'aria-label': t('act.cancel') }}>
      <form onSubmit={save}>
        <Stack>
          <Text>{t('act.hint')}</Text>
          <Textarea label={t('act.comment')} required autosize minRows={3} value={comment} onChange={({ currentTarget: { value } }) => setComment(value)} data-autofocus />
          {changed ? (
            <div role="alert">
              <Text fw={600}>{t('act.changed')}</Text>
              <Text>{now === null ? t('act.gone', standing(seen)) : t('act.moved', { ...standing(seen), nowPlace: now.place + 1, nowPercent: sharePercent(now.share) })}</Text>
              <Text pt="xs">{t('act.nowFirst')}</Text>
              <List type="ordered">{trace.origins.slice(0, 3).map((each) => <List.Item key={originKey(refOf(each))}>{t('act.nowAt', { where: whereOf(t, each), percent: sharePercent(each.share) })}</List.Item>)}</List>
            </div>
          ) : null}
          {keep.isError && !(changed && refusedAsChanged) ? <ProblemList error={keep.error} /> : null}
          <Group>
            {/* Two elements, not one that turns into the other: the click that says "read" would submit the form. */}
            {!changed ? <Button key="save" type="submit" loading={keep.isPending}>{t('act.save')}</Button> : now === null ? null : <Button key="seen" onClick={() => { keep.reset(); setSeen(now); }}>{t('act.seenNow')}</Button>}
            <Button variant="default" onClick={onClose}>{t('act.cancel')}</Button>
          </Group>
        </Stack>
      </form>
    </Modal>
  );
}

const standing = ({ place, share }: Standing) => ({ place: place + 1, percent: sharePercent(share) });

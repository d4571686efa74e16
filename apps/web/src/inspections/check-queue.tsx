import { Anchor, Text } from '@mantine/core';
import { useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { isReached, onNetworkChange, useReached } from '../shared/network.js';
import { sessionKey, usePerson, useSession } from '../shared/session.js';
import { usePhotosOnTheirWay } from './photo-queries.js';
import { listPersonsPhotos } from './photo-store.js';
import { forgetJudged, queueKey, useQueue } from './queue.queries.js';
import { isSending, runPhotos, runQueue } from './queue-runner.js';
import { onQueueChange } from './queue-news.js';
import { listQueue } from './queue-store.js';

const TRY_AGAIN_MS = 10_000;

/** For the frame: sends what waits as soon as the server is there, and says on every screen how the queue stands, unless there is nothing to say. */
export function CheckQueue() {
  const { t } = useTranslation(['queue', 'photos']);
  const client = useQueryClient();
  const person = usePerson();
  const reached = useReached();
  const queue = useQueue(person.id);
  useEffect(() => {
    const run = async () => {
      // Also the way to learn that a server that was down is back.
      const pending = (await listQueue(person.id)).some(({ state }) => state === 'waiting' || state === 'sending') || (await listPersonsPhotos(person.id)).some(({ checkId, refused }) => checkId !== null && refused === null);
      if (isSending() || (!pending && isReached())) return;
      if (!pending) { await client.invalidateQueries({ queryKey: sessionKey }); return; }
      const sent = await runQueue(person.id);
      const outcome = sent === 'done' ? await runPhotos(person.id) : sent;
      if (outcome === 'sign-in') await client.invalidateQueries({ queryKey: sessionKey });
      if (outcome === 'done') await forgetJudged(client);
    };
    // A browser that keeps no database has no queue: its checks go straight to the server.
    const quietly = () => { run().catch(() => {}); };
    quietly();
    const timer = setInterval(quietly, TRY_AGAIN_MS);
    const stopNetwork = onNetworkChange(() => { if (isReached()) quietly(); });
    const stopQueue = onQueueChange(() => void client.invalidateQueries({ queryKey: queueKey }));
    return () => { clearInterval(timer); stopNetwork(); stopQueue(); };
  }, [client, person.id]);
  // A session from what was kept has no token for changes: the server is asked as soon as it is there.
  const kept = useSession().csrf === null;
  useEffect(() => { if (reached && kept) void client.invalidateQueries({ queryKey: sessionKey }); }, [client, reached, kept]);
  const items = queue.data ?? [];
  const needing = items.filter(({ state }) => state === 'needs-you').length;
  const waiting = items.filter(({ state }) => state === 'waiting' || state === 'sending').length;
  const photos = usePhotosOnTheirWay(person.id).data ?? [];
  const refused = photos.filter((photo) => photo.refused !== null).length;
  const going = photos.filter((photo) => photo.refused === null && photo.checkId !== null).length;
  if (needing + waiting + refused + going === 0 && reached) return null;
  const words = [reached ? null : t('header.away'), needing > 0 ? t('header.needing', { count: needing }) : null, waiting > 0 ? t('header.waiting', { count: waiting }) : null, refused > 0 ? t('photos:way.headerRefused', { count: refused }) : null, going > 0 ? t('photos:way.header', { count: going }) : null].filter((part) => part !== null).join(' · ');
  return <Text role="status" size="sm" mb="sm" className="queue-strip"><Anchor component={Link} to="/log">{words}</Anchor></Text>;
}

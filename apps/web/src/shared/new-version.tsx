import { Button, Group, Text } from '@mantine/core';
import { useEffect, useState } from 'react';
import { useTranslation } from 'react-i18next';

const LOOK_AGAIN_MS = 30 * 60_000;
// As the program is loaded, and only then: the worker that controls this page now is the one whose files it was made of.
if (import.meta.env.PROD && 'serviceWorker' in navigator) navigator.serviceWorker.controller?.postMessage('loaded');

/**
 * Registers the service worker of the production build, so that the program opens without the network, and offers a
 * new version once it lies ready. It is taken over when the person asks for it, never by itself.
 */
export function NewVersion() {
  const { t } = useTranslation('common');
  const [ready, setReady] = useState<ServiceWorker | null>(null);
  useEffect(() => {
    if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
    let timer: ReturnType<typeof setInterval> | undefined;
    let gone = false;
    const offer = (worker: ServiceWorker | null) => { if (!gone && worker?.state === 'installed' && navigator.serviceWorker.controller) setReady(worker); };
    navigator.serviceWorker.register('/service-worker.js', { scope: '/' }).then((registration) => {
      if (gone) return;
      offer(registration.waiting);
      registration.addEventListener('updatefound', () => { const found = registration.installing; found?.addEventListener('statechange', () => offer(found)); });
      timer = setInterval(() => { registration.update().catch(() => {}); }, LOOK_AGAIN_MS);
    }, () => { /* A page without TLS from another computer may have none: the program works with the network only. */ });
    return () => { gone = true; clearInterval(timer); };
  }, []);
  const load = () => {
    navigator.serviceWorker.addEventListener('controllerchange', () => window.location.reload(), { once: true });
    ready?.postMessage('take-over');
  };
  if (!ready) return null;
  return (
    <Group className="new-version no-print" role="status" gap="sm">
      <Text size="sm">{t('version.ready')}</Text>
      <Button size="md" variant="default" onClick={load}>{t('version.load')}</Button>
      <Button size="md" variant="subtle" onClick={() => setReady(null)}>{t('version.later')}</Button>
    </Group>
  );
}

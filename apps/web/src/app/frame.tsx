import { AppShell, Burger, Group, NavLink, Text, UnstyledButton } from '@mantine/core';
import { useDisclosure } from '@mantine/hooks';
import { Suspense, useRef } from 'react';
import { useTranslation } from 'react-i18next';
import { Link, Navigate, Outlet, useLocation, useNavigation } from 'react-router';
import { CheckQueue } from '../inspections/check-queue.js';
import { AUDITOR_SCREENS, isOpenToAuditors } from '../shared/auditor-screens.js';
import { LiveNews } from '../shared/live.js';
import { SessionContext, useSessionQuery, useSignOut } from '../shared/session.js';
import { useSessionLock } from '../shared/session-lock.js';
import { ErrorState, Loading } from '../shared/states.js';
import { AuditorScopeLine } from '../users/auditor-scope-line.js';
import { FirstRunPage } from '../users/first-run-page.js';
import { LockScreen } from '../users/lock-screen.js';
import { SignInPage } from '../users/sign-in-page.js';
import { NotForAuditorsPage } from './not-for-auditors-page.js';
import { OpenFrame } from './open-frame.js';

const SCREENS = [
  ['/', 'now'], ['/log', 'log'], ['/charts', 'charts'], ['/signals', 'signals'], ['/incidents', 'incidents'], ['/holds', 'holds'],
  ['/past-fixes', 'pastFixes'], ['/capability', 'capability'], ['/studies', 'studies'], ['/workbench', 'workbench'], ['/planner', 'planner'], ['/import', 'import'], ['/records', 'records'], ['/packs', 'packs'], ['/set-up', 'setUp'],
] as const;

/** The one frame of all screens: who is signed in, where to go, and the standing caution. */
export function Frame() {
  const { t } = useTranslation('common');
  const session = useSessionQuery();
  const signOut = useSignOut();
  const [open, { toggle, close }] = useDisclosure(false);
  useSessionLock(session.data);
  const wasOpen = useRef(false);
  const { pathname, search } = useLocation();
  const moving = useNavigation().state === 'loading';
  if (session.isPending) return <Loading what={t('app.name')} />;
  if (session.isError) return <ErrorState error={session.error} retry={() => void session.refetch()} />;
  if (session.data.firstRun) return <FirstRunPage />;
  const { person, plant } = session.data;
  // Open to anyone, until they ask to sign in there: what the address holds then stays in it.
  if (!person || !plant) return pathname === '/workbench' && !new URLSearchParams(search).has('sign-in') ? <OpenFrame /> : <SignInPage />;
  if (session.data.locked && !wasOpen.current) return <LockScreen person={person} keepsWork={false} />;
  wasOpen.current = true;
  const isAuditor = person.role === 'auditor';
  const screens = SCREENS.filter(([, name]) => !isAuditor || AUDITOR_SCREENS.some((open) => open === name));
  const isHere = (path: string) => (path === '/' ? pathname === '/' : pathname.startsWith(path));
  return (
    <SessionContext.Provider value={session.data}>
      {isAuditor ? null : <LiveNews />}
      {session.data.locked ? <LockScreen person={person} keepsWork /> : null}
      <a className="skip-link" href="#content">{t('app.skip')}</a>
      <AppShell header={{ height: 56 }} navbar={{ width: 208, breakpoint: 'sm', collapsed: { mobile: !open } }} padding="md">
        <AppShell.Header className="frame-header">
          <Group h="100%" px="md" justify="space-between" wrap="nowrap">
            <Group gap="sm" wrap="nowrap">
              <Burger opened={open} onClick={toggle} hiddenFrom="sm" size="sm" aria-label={t('app.menu')} aria-expanded={open} />
              <img src="/seam.svg" width={28} height={28} alt="" />
              <Text fw={700} size="lg">{t('app.name')}</Text>
              <Text c="dimmed" visibleFrom="sm">{plant.name}</Text>
            </Group>
            <Group gap="md" wrap="nowrap">
              <Text component={Link} to="/account" size="sm" className="quiet-link">{t('app.person', { name: person.name, role: t(`roles.${person.role}`) })}</Text>
              <UnstyledButton className="quiet-link" onClick={() => signOut.mutate()}>{t('app.signOut')}</UnstyledButton>
            </Group>
          </Group>
        </AppShell.Header>
        <AppShell.Navbar p="xs" className="frame-nav" aria-label={t('app.screens')}>
          {screens.map(([path, name]) => (
            <NavLink key={path} component={Link} to={path} label={t(`screens.${name}`)} active={isHere(path)} aria-current={isHere(path) ? 'page' : undefined} onClick={close} className="frame-link" />
          ))}
          <Text size="xs" c="dimmed" mt="auto" p="xs">{t('app.caution')}</Text>
        </AppShell.Navbar>
        <AppShell.Main id="content" tabIndex={-1} aria-busy={moving}>
          <CheckQueue />
          {isAuditor ? <AuditorScopeLine /> : null}
          <Suspense fallback={<Loading what={t('app.page')} />}>{!isAuditor || isOpenToAuditors(pathname) ? <Outlet /> : pathname === '/' ? <Navigate to="/charts" replace /> : <NotForAuditorsPage />}</Suspense>
        </AppShell.Main>
      </AppShell>
    </SessionContext.Provider>
  );
}

import type { ComponentType } from 'react';
import { createBrowserRouter, type RouteObject } from 'react-router';
import { Frame } from './frame.js';
import { BrokenPage, NoSuchPage } from './no-such-page.js';

type Loaded = Promise<ComponentType>;
const page = (path: string, load: () => Loaded): RouteObject => ({ path, lazy: async () => ({ Component: await load() }) });

/** Every screen and where its page lies. The frame asks who is signed in before any of them shows. */
export const router = createBrowserRouter([{
  element: <Frame />,
  errorElement: <BrokenPage />,
  hydrateFallbackElement: <></>,
  children: [
    page('/', () => import('../plant/now-page.js').then((file) => file.NowPage)),
    page('/charts', () => import('../specifications/charts-page.js').then((file) => file.ChartsPage)),
    page('/log', () => import('../inspections/log-page.js').then((file) => file.LogPage)),
    page('/checks/:id', () => import('../inspections/check-page.js').then((file) => file.CheckPage)),
    page('/signals', () => import('../signals/signal-list-page.js').then((file) => file.SignalListPage)),
    page('/signals/:id', () => import('../signals/signal-page.js').then((file) => file.SignalPage)),
    page('/signals/:id/trace', () => import('../traces/signal-trace-page.js').then((file) => file.SignalTracePage)),
    page('/traces/:id', () => import('../traces/kept-trace-page.js').then((file) => file.KeptTracePage)),
    page('/incidents', () => import('../incidents/incident-list-page.js').then((file) => file.IncidentListPage)),
    page('/incidents/new', () => import('../incidents/incident-new-page.js').then((file) => file.IncidentNewPage)),
    page('/incidents/pareto', () => import('../incidents/pareto-page.js').then((file) => file.ParetoPage)),
    page('/incidents/:id/reply', () => import('../incidents/incident-reply-page.js').then((file) => file.IncidentReplyPage)),
    page('/incidents/:id', () => import('../incidents/incident-page.js').then((file) => file.IncidentPage)),
    page('/incidents/:id/trace', () => import('../traces/trace-page.js').then((file) => file.TracePage)),
    page('/holds', () => import('../holds/hold-list-page.js').then((file) => file.HoldListPage)),
    page('/holds/new', () => import('../holds/hold-new-page.js').then((file) => file.HoldNewPage)),
    page('/holds/:id', () => import('../holds/hold-page.js').then((file) => file.HoldPage)),
    page('/past-fixes', () => import('../knowledge/past-fixes-page.js').then((file) => file.PastFixesPage)),
    page('/past-fixes/new', () => import('../knowledge/note-new-page.js').then((file) => file.NoteNewPage)),
    page('/past-fixes/:id', () => import('../knowledge/note-page.js').then((file) => file.NotePage)),
    page('/capability', () => import('../studies/capability-page.js').then((file) => file.CapabilityPage)),
    page('/workbench', () => import('../workbench/workbench-page.js').then((file) => file.WorkbenchPage)),
    page('/planner', () => import('../planner/planner-page.js').then((file) => file.PlannerPage)),
    page('/import', () => import('../ingest/import-page.js').then((file) => file.ImportPage)),
    page('/records', () => import('../records/records-page.js').then((file) => file.RecordsPage)),
    page('/set-up', () => import('../plant/set-up-page.js').then((file) => file.SetUpPage)),
    page('/labels', () => import('../plant/labels-page.js').then((file) => file.LabelsPage)),
    page('/messages-out', () => import('../outgoing/messages-out-page.js').then((file) => file.MessagesOutPage)),
    page('/account/notices', () => import('../outgoing/my-notices-page.js').then((file) => file.MyNoticesPage)),
    page('/set-up/monitors', () => import('../monitors/monitors-page.js').then((file) => file.MonitorsPage)),
    page('/account', () => import('../users/account-page.js').then((file) => file.AccountPage)),
    { path: '*', element: <NoSuchPage /> },
  ],
}, { ...page('/wall', () => import('../outgoing/wall-page.js').then((file) => file.WallPage)), errorElement: <BrokenPage />, hydrateFallbackElement: <></> }]);

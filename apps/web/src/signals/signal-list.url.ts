import { signalState, type SignalState } from '#contract/signals';

/** The filters of the list; `before` is the last signal of the page before. */
export type SignalListView = { state: SignalState | 'not-closed' | 'all'; line?: number; machine?: number; characteristic?: number; assigned?: number; before?: number };
const IDS = ['line', 'machine', 'characteristic', 'assigned', 'before'] as const;

/** Reads the address; what is no id and no state is left out, so that an old or mistyped link still opens. */
export function readSignalListUrl(params: URLSearchParams): SignalListView {
  const text = params.get('state');
  const state = signalState.safeParse(text);
  const view: SignalListView = { state: text === 'all' ? 'all' : state.success ? state.data : 'not-closed' };
  for (const name of IDS) {
    const id = params.get(name);
    if (id !== null && /^[1-9]\d{0,8}$/.test(id)) view[name] = Number(id);
  }
  return view;
}

export function writeSignalListUrl(view: SignalListView): URLSearchParams {
  const params = new URLSearchParams();
  if (view.state !== 'not-closed') params.set('state', view.state);
  for (const name of IDS) if (view[name] !== undefined) params.set(name, String(view[name]));
  return params;
}

/** Another filter begins at the newest signal again; another line forgets the machine. */
export function changeSignalListView(view: SignalListView, change: Partial<SignalListView>): SignalListView {
  const next: SignalListView = { ...view, before: undefined, ...change };
  if ('line' in change) next.machine = undefined;
  return next;
}

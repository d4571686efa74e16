import { type IncidentState, incidentStates } from '#contract/incident-shapes';

export type ListState = IncidentState | 'not-closed';
/** Filters of the list, as its address says them. */
export type IncidentListView = { state?: ListState; customer?: string; defect?: string; take: number };

const PAGE = 50;

const LIST_STATES: readonly ListState[] = ['not-closed', ...incidentStates];
export const readListState = (text: string): ListState | undefined => LIST_STATES.find((known) => known === text);

export function readIncidentListUrl(params: URLSearchParams): IncidentListView {
  const view: IncidentListView = { take: PAGE };
  const [state, customer, defect, take] = ['state', 'customer', 'defect', 'take'].map((name) => params.get(name)?.trim() ?? '');
  const known = readListState(state ?? '');
  if (known) view.state = known;
  if (customer && customer.length <= 200) view.customer = customer;
  if (defect && defect.length <= 40) view.defect = defect;
  if (take === '100' || take === '150' || take === '200') view.take = Number(take);
  return view;
}

export function writeIncidentListUrl(view: IncidentListView): URLSearchParams {
  const params = new URLSearchParams();
  for (const name of ['state', 'customer', 'defect'] as const) {
    const value = view[name];
    if (value) params.set(name, value);
  }
  if (view.take !== PAGE) params.set('take', String(view.take));
  return params;
}

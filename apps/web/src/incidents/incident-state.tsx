import { useTranslation } from 'react-i18next';
import type { IncidentState as State } from '#contract/incident-shapes';
import { StateBadge } from '../shared/state-badge.js';

export const isOverdue = ({ state, dueAt }: { state: State; dueAt: string | null }): boolean => state !== 'closed' && dueAt !== null && Date.parse(dueAt) < Date.now();

/** Loud until something was done about the cause; quiet from then on, but for a date that has passed. */
export function IncidentState({ incident }: { incident: { state: State; dueAt: string | null } }) {
  const { t } = useTranslation('incidentLife');
  const word = t(`state.${incident.state}`);
  if (isOverdue(incident)) return <StateBadge state="due" word={t('stateOverdue', { state: word })} />;
  return <StateBadge state={['open', 'contained', 'cause-found'].includes(incident.state) ? 'signal' : 'steady'} word={word} />;
}

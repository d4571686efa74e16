import { useTranslation } from 'react-i18next';
import type { StudyRecordListed } from '#contract/capability-studies';
import { type State, StateBadge } from '../shared/state-badge.js';

const STATES: Record<StudyRecordListed['state'], State> = { measuring: 'due', draft: 'due', checked: 'due', approved: 'steady', superseded: 'not-judged' };

/** The state of a study and, beside it, whether its readings changed since. */
export function StudyState({ study }: { study: Pick<StudyRecordListed, 'state' | 'stale'> }) {
  const { t } = useTranslation('studyRecords');
  return <><StateBadge state={STATES[study.state]} word={t(`state.${study.state}`)} />{study.stale ? <><br /><StateBadge state="signal" word={t('list.stale')} /></> : null}</>;
}

import { useTranslation } from 'react-i18next';
import type { HoldRow } from '#contract/holds';
import { type State, StateBadge } from '../shared/state-badge.js';

const SHAPES: Record<HoldRow['state'], State> = { proposed: 'due', placed: 'held', 'under-examination': 'held', decided: 'steady', withdrawn: 'not-judged' };

export function HoldBadge({ hold: { state, disposition } }: { hold: Pick<HoldRow, 'state' | 'disposition'> }) {
  const { t } = useTranslation('holds');
  return <StateBadge state={SHAPES[state]} word={disposition === null ? t(`state.${state}`) : t(`disposition.${disposition}`)} />;
}

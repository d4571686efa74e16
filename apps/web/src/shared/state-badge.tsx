import { useTranslation } from 'react-i18next';

export type State = 'steady' | 'signal' | 'due' | 'held' | 'not-judged';

/** Each state has its own outline, so that a black-and-white print and every kind of colour vision can tell them apart. */
const SHAPES: Record<State, React.ReactNode> = {
  steady: <circle cx="8" cy="8" r="4" fill="none" stroke="currentColor" strokeWidth="1.5" />,
  signal: <path d="M8 1 15 8 8 15 1 8Z" fill="currentColor" />,
  due: <path d="M2 2h12L8 8l6 6H2l6-6Z" fill="currentColor" />,
  held: <path d="M3 2h3v12H3ZM10 2h3v12h-3Z" fill="currentColor" />,
  'not-judged': <path d="M2 8h12" stroke="currentColor" strokeWidth="2.5" strokeDasharray="3 2" />,
};

/** The five states of the product and no more: shape, word, colour. */
export function StateBadge({ state, word }: { state: State; word?: string }) {
  const { t } = useTranslation('common');
  return (
    <span className={`state state-${state}`}>
      <svg viewBox="0 0 16 16" aria-hidden="true">{SHAPES[state]}</svg>
      {word ?? t(`states.${state}`)}
    </span>
  );
}

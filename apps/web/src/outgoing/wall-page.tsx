import { useTranslation } from 'react-i18next';
import type { WallBoard } from '#contract/wall';
import { type Format, makeFormat } from '../shared/format.js';
import { ProblemError } from '../shared/http.js';
import { useConnection } from '../shared/live.js';
import { ageOf, placeOf, sentenceOf } from '../shared/signal-words.js';
import { StateBadge } from '../shared/state-badge.js';
import './wall.css';
import { WallLine } from './wall-line.js';
import { useWall, useWallNews } from './wall.queries.js';

/** What fits and can be read from four metres; the rest is a number. */
const [MOST_DUE, MOST_SIGNALS] = [2, 2];

/** The board for a screen on the wall: nothing to press, nothing that ends by itself. */
export function WallPage() {
  const { t } = useTranslation('outgoing');
  const query = useWall();
  useWallNews(query.data !== undefined);
  const refused = query.error instanceof ProblemError && [401, 403].includes(query.error.problem.status);
  if (refused) return <main className="wall wall-message"><h1>{t('wall.noToken')}</h1><p>{t('wall.noTokenText')}</p></main>;
  if (!query.data) return <main className="wall wall-message" role="status"><h1>{query.isError ? t('wall.noServer') : t('wall.starting')}</h1>{query.isError ? <p>{t('wall.noServerText')}</p> : null}</main>;
  return <Board board={query.data} failingSince={query.isError ? query.dataUpdatedAt : null} />;
}

function Board({ board, failingSince }: { board: WallBoard; /** When the last answer came, where the newest try failed. */ failingSince: number | null }) {
  const { t } = useTranslation('outgoing');
  const { t: now } = useTranslation('plant');
  const { state, since } = useConnection();
  const format = makeFormat(board.timeZone);
  const incidents = board.lines.reduce((sum, line) => sum + line.incidents, 0);
  const quiet = board.openSignals === 0 && board.due.length === 0 && incidents === 0;
  const words = quiet ? now('now.quiet') : now('now.trouble', { signals: now('now.signals', { count: board.openSignals }), due: now('now.due', { count: board.due.length }), incidents: now('now.incidents', { count: incidents }) });
  return (
    <main className="wall">
      <title>{t('wall.title', { plant: board.plant })}</title>
      <header className="wall-head">
        <h1>{board.plant}</h1>
        <p className="wall-time">{t('wall.asOf', { time: format.time(board.at) })}</p>
      </header>
      {failingSince !== null || state === 'lost' ? <p className="wall-lost" role="alert">{t(failingSince !== null ? 'wall.lost' : 'wall.slow', { since: format.time(new Date(failingSince ?? since).toISOString()), time: format.time(board.at) })}</p> : null}
      <p className="wall-headline" role="status">{board.openSignals > 0 ? <StateBadge state="signal" word={words} /> : board.due.length > 0 ? <StateBadge state="due" word={words} /> : words}</p>
      <div className="wall-columns">
        <div>{board.lines.length === 0 ? <p>{now('now.noLines')}</p> : board.lines.map((line) => <WallLine key={line.id} line={line} format={format} at={board.at} />)}</div>
        {quiet ? null : <Aside board={board} format={format} />}
      </div>
      <footer className="wall-foot">{t('wall.foot', { screen: board.screen })}</footer>
    </main>
  );
}

function Aside({ board, format }: { board: WallBoard; format: Format }) {
  const { t } = useTranslation('outgoing');
  const { t: now } = useTranslation('plant');
  const { t: words } = useTranslation('signals');
  const most = board.due.length === 0 ? MOST_SIGNALS + MOST_DUE : MOST_SIGNALS;
  return (
    <div className="wall-aside">
      {board.signals.length === 0 ? null : (
        <section>
          <h2>{now('now.signalsTitle')}</h2>
          {board.signals.slice(0, most).map((signal) => <div key={signal.id} className="wall-entry"><p>{placeOf(words, signal.stream)}</p><p className="wall-small">{sentenceOf(words, format, signal)}</p></div>)}
          {board.openSignals > most ? <p className="wall-small">{t('wall.moreSignals', { count: board.openSignals - most })}</p> : null}
        </section>
      )}
      {board.due.length === 0 ? null : (
        <section>
          <h2>{now('now.dueTitle')}</h2>
          {board.due.slice(0, MOST_DUE).map((due) => {
            const over = due.minutesOver === null ? null : ageOf(due.minutesOver);
            return <div key={due.planId} className="wall-entry"><p>{t('wall.due', { machine: due.machine, plan: due.plan })}</p><p className="wall-small">{over === null ? t('wall.never') : t('wall.over', { time: words(over.key, over.values) })}</p></div>;
          })}
          {board.due.length > MOST_DUE ? <p className="wall-small">{t('wall.moreDue', { count: board.due.length - MOST_DUE })}</p> : null}
        </section>
      )}
    </div>
  );
}

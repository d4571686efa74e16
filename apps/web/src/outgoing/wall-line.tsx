import { useTranslation } from 'react-i18next';
import { isStepKind } from '#canmaking/line/steps';
import type { WallBoard } from '#contract/wall';
import type { Format } from '../shared/format.js';
import { StateBadge } from '../shared/state-badge.js';

type Line = WallBoard['lines'][number];

/** A line says what is wrong on it; machines that are well are one number. */
export function WallLine({ line, format, at }: { line: Line; format: Format; /** When the board was asked for. */ at: string }) {
  // A date that is today's says nothing and takes a line that a wall cannot scroll to.
  const momentOf = (moment: string) => (format.date(moment) === format.date(at) ? format.time(moment) : format.dateTime(moment));
  const { t } = useTranslation('outgoing');
  const { t: now } = useTranslation('plant');
  const machines = line.steps.flatMap((step) => step.machines.map((machine) => ({ ...machine, step: isStepKind(step.kind) ? now(`now.steps.${step.kind}`) : step.kind })));
  const loud = machines.filter(({ state }) => state === 'signal' || state === 'due' || state === 'held');
  const [steady, notJudged] = (['steady', 'not-judged'] as const).map((state) => machines.filter((machine) => machine.state === state).length);
  const rest = [steady ? t('wall.steady', { count: steady }) : null, notJudged ? t('wall.notJudged', { count: notJudged }) : null, line.incidents > 0 ? now('now.incidents', { count: line.incidents }) : null].filter((part) => part !== null).join(' · ');
  return (
    <section className="wall-line" aria-label={`${line.code} ${line.name}`}>
      <div className="wall-line-head"><h2>{line.code} {line.name}</h2><p className="wall-small">{t(`wall.running.${line.running}`, { at: line.notRunningSince ? momentOf(line.notRunningSince) : '' })}{rest ? ` · ${rest}` : ''}</p></div>
      {loud.length > 0 ? (
        <ul className="wall-tiles">
          {loud.map(({ id, code, step, state, openSignals, checksDue }) => (
            <li key={id} className={`wall-tile wall-tile-${state}`}>
              <p className="wall-tile-name">{code} <span className="wall-small">{step}</span></p>
              <StateBadge state={state ?? 'not-judged'} word={[openSignals > 0 ? now('now.machineSignals', { count: openSignals }) : null, checksDue > 0 ? now('now.machineDue', { count: checksDue }) : null].filter((part) => part !== null).join(', ')} />
            </li>
          ))}
        </ul>
      ) : null}
    </section>
  );
}

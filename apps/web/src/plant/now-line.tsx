import { Group, Paper, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { isStepKind } from '#canmaking/line/steps';
import type { NowBoard } from '#contract/signals';
import { useFormat } from '../shared/format.js';
import { StateBadge } from '../shared/state-badge.js';

type Line = NowBoard['lines'][number];
type Machine = Line['steps'][number]['machines'][number];

/** One line as a row: its steps in process order, each with its machines. */
export function NowLine({ line }: { line: Line }) {
  const { t } = useTranslation('plant');
  const format = useFormat();
  const nameOf = (kind: string) => (isStepKind(kind) ? t(`now.steps.${kind}`) : kind);
  return (
    <Paper withBorder p="md" component="section" aria-label={`${line.code} ${line.name}`}>
      <Group justify="space-between" mb="sm">
        <Title order={2} size="h4">{line.code} {line.name}</Title>
        <Text size="sm" c="dimmed">{t(`now.running.${line.running}`, { at: line.notRunningSince ? format.dateTime(line.notRunningSince) : '' })}</Text>
      </Group>
      <ol className="now-steps">
        {line.steps.map((step) => (
          <li key={step.id} className="now-step">
            <Text size="sm" c="dimmed" mb={4}>{nameOf(step.kind)}</Text>
            {step.machines.length === 0 ? <Text size="sm">{t('now.noMachines')}</Text> : step.machines.map((machine) => <MachineTile key={machine.id} machine={machine} />)}
          </li>
        ))}
      </ol>
    </Paper>
  );
}

/** Where a tile leads: to what is wrong, else to a chart of the machine. */
function aim({ id, state, checksDue, streamId }: Machine): string {
  if (state === 'signal') return `/signals?machine=${id}`;
  if (state === 'held') return '/holds?state=open';
  return checksDue > 0 ? `/log?machine=${id}` : `/charts?stream=${streamId ?? ''}`;
}

function MachineTile({ machine }: { machine: Machine }) {
  const { t } = useTranslation('plant');
  const format = useFormat();
  const { state } = machine;
  const counts = [machine.openSignals > 0 ? t('now.machineSignals', { count: machine.openSignals }) : null, machine.checksDue > 0 ? t('now.machineDue', { count: machine.checksDue }) : null, machine.holds > 0 ? t('now.machineHolds', { count: machine.holds }) : null].filter((part) => part !== null).join(' · ');
  // A machine that nothing is charted at is a place in the chain and no more: it takes little room.
  if (state === null) return <div className="now-machine now-machine-plain" title={machine.name}><Text span c="dimmed">{machine.code}</Text><span className="visually-hidden">{`${machine.name}, `}{t('now.notCharted')}</span></div>;
  const last = machine.lastCheckAt;
  const today = last !== null && format.date(last) === format.date(new Date().toISOString());
  return (
    <Link to={aim(machine)} className={`now-machine now-machine-${state}`} title={machine.name}>
      <Text fw={600}>{machine.code}<span className="visually-hidden"> {machine.name}</span></Text>
      <StateBadge state={state} />
      {counts ? <Text size="sm">{counts}</Text> : null}
      <Text size="sm" c="dimmed">{last === null ? t('now.noCheck') : t('now.lastCheck', { at: today ? format.time(last) : format.dateTime(last) })}</Text>
    </Link>
  );
}

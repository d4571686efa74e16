import { Checkbox, Group, NativeSelect, Stack, Text, Title } from '@mantine/core';
import { useMemo, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { AnswerOf } from '#contract/endpoint';
import type { getIncidentSurroundings, Incident, Surrounding } from '#contract/incidents';
import { chartText } from '../shared/chart-text.js';
import { useDefects } from '../shared/defects.queries.js';
import { useFormat } from '../shared/format.js';
import { Plot } from '../shared/plot.js';
import { EmptyState, QueryView } from '../shared/states.js';
import { useSurroundings } from './incidents.queries.js';
import { rowOf, surroundingsFigure } from './surroundings.figure.js';
import { SurroundingsTable, useDescribe } from './surroundings-table.js';

const KINDS = ['check', 'signal', 'event', 'missed'] as const;
const BEFORE = [4, 12, 24, 48, 96, 168, 336] as const;
const NO_STEPS: readonly string[] = [];
const AFTER = [0, 4, 12, 24, 48] as const;

/** What the plant has on record of the line round the time the cans were made. */
export function IncidentSurroundings({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidents');
  const [hours, setHours] = useState<{ before: number; after: number }>({ before: 24, after: 4 });
  const [kinds, setKinds] = useState<readonly Surrounding['kind'][]>(KINDS);
  const around = useSurroundings(incident.id, hours);
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('around.title')}</Title>
      <Group align="flex-end" gap="md" pb="sm">
        <NativeSelect size="md" label={t('around.before')} value={String(hours.before)} data={BEFORE.map(String)} onChange={({ currentTarget: { value } }) => setHours({ ...hours, before: Number(value) })} />
        <NativeSelect size="md" label={t('around.after')} value={String(hours.after)} data={AFTER.map(String)} onChange={({ currentTarget: { value } }) => setHours({ ...hours, after: Number(value) })} />
        <Group gap="md" role="group" aria-label={t('around.kinds')}>
          {KINDS.map((kind) => <Checkbox key={kind} size="md" label={t(`kindOf.${kind}`)} checked={kinds.includes(kind)} onChange={({ currentTarget: { checked } }) => setKinds(checked ? [...kinds, kind] : kinds.filter((other) => other !== kind))} />)}
        </Group>
      </Group>
      <QueryView query={around} what={t('around.loading')} isEmpty={({ entries }) => entries.length === 0} empty={<EmptyState title={t('around.empty.title')} text={t('around.empty.text')} />}>
        {(data) => <Around incident={incident} data={data} kinds={kinds} />}
      </QueryView>
    </section>
  );
}

function Around({ incident, data, kinds }: { incident: Incident; data: AnswerOf<typeof getIncidentSurroundings>; kinds: readonly Surrounding['kind'][] }) {
  const { t } = useTranslation('incidents');
  const format = useFormat();
  const describe = useDescribe();
  // In the order of the process, as the taxonomy lists it.
  const stepKinds = useDefects().data?.stepKinds ?? NO_STEPS;
  const shown = useMemo(() => data.entries.filter(({ kind }) => kinds.includes(kind)), [data, kinds]);
  const figure = useMemo(() => {
    const wholeLine = t('around.wholeLine');
    const order = (entry: Surrounding) => (entry.stepKind === null ? -1 : stepKinds.indexOf(entry.stepKind));
    const rows = [...new Set([...data.entries].sort((a, b) => order(a) - order(b) || (a.machine ?? '').localeCompare(b.machine ?? '')).map((entry) => rowOf(entry, wholeLine)))];
    return surroundingsFigure(shown, data.madeAt, rows, format.wall, { kind: (kind) => t(`kindOf.${kind}`), wholeLine, made: t('around.made'), describe: (entry) => `${format.dateTime(entry.at)}<br>${chartText(describe(entry))}` });
  }, [data, shown, format, t, describe, stepKinds]);
  const machines = new Set(data.entries.map(({ machineId }) => machineId)).size;
  return (
    <Stack gap="sm">
      <Text>{t('around.span', { from: format.dateTime(data.from), to: format.dateTime(data.to), made: format.dateTime(data.madeAt) })}</Text>
      <Plot figure={figure} label={t('around.plot')} height={Math.min(640, 140 + 34 * machines)} />
      {data.leftOut > 0 ? <Text role="status">{t('around.leftOut', { count: data.leftOut })}</Text> : null}
      <SurroundingsTable incident={incident} entries={shown} />
    </Stack>
  );
}

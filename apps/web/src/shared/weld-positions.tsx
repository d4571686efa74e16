import { Anchor, Stack, Table, Text, Title } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import type { TFunction } from 'i18next';
import { useId } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { USUAL_NEAR_EDGE } from '#canmaking/weld/tested-window';
import { listWeldPositions, type WeldPosition } from '#contract/weld-windows';
import { type Format, useFormat } from './format.js';
import { call } from './http.js';
import { QueryView } from './states.js';

type Tested = NonNullable<WeldPosition['tested']>;

/** Where the welding settings of one check stand in the window that a test proved; nothing where the check has none. */
export function WeldPositionsOfCheck({ checkId }: { checkId: number }) {
  const { t } = useTranslation('weldWindows');
  const query = useQuery({ queryKey: ['weld-positions', 'check', checkId], queryFn: ({ signal }) => call(listWeldPositions, { query: { check: checkId }, signal }) });
  // Most checks have no welding setting: a heading that comes and goes would be noise.
  if (!query.data || query.data.positions.length === 0) return null;
  return (
    <Stack component="section" gap="xs" aria-labelledby="weld-window-title">
      <Title order={2} size="h4" id="weld-window-title">{t('facts.title')}</Title>
      {query.data.positions.map((position) => <PositionFacts key={keyOf(position)} position={position} />)}
    </Stack>
  );
}

function PositionFacts({ position }: { position: WeldPosition }) {
  const { t } = useTranslation('weldWindows');
  const format = useFormat();
  const { tested, coilSince } = position;
  const name = withPart(t, position.characteristic.name, position);
  if (tested === null) return <Text fw={600}>{t('facts.none', { setting: name, value: settingOf(t, format, position), machine: position.machine })}</Text>;
  const { window, ...held } = tested.window;
  return (
    <div>
      <Text>{t('facts.where', { setting: name, value: settingOf(t, format, position), percent: percentOf(t, format, tested), range: rangeOf(t, format, position, tested) })}</Text>
      {wordsOf(t, format, position, tested).map((words) => <Text key={words} fw={calm(tested) ? undefined : 600}>{words}</Text>)}
      {coilSince ? <Text>{t('facts.coil', { text: coilSince.text, at: format.dateTime(coilSince.at) })}</Text> : null}
      {window ? <Text size="sm" c="dimmed">{t('facts.tested', { at: format.dateTime(window.testedAt), by: window.testedBy, place: held.machine?.code ?? held.line.code, version: held.version, material: window.material || t('facts.notSaid'), speed: window.speed === null ? t('facts.notSaid') : format.withUnit(window.speed, 0, 'm/min') })}</Text> : null}
      {window ? <Text size="sm" c="dimmed">{t('facts.evidence', { evidence: window.evidence })}</Text> : null}
      {window ? <Text size="sm" c="dimmed">{t('facts.margin', { percent: format.number(window.nearEdge, 0), usual: window.nearEdge === USUAL_NEAR_EDGE ? t('facts.usual') : '' })}</Text> : null}
    </div>
  );
}

/** The settings of one welder while suspect cans passed it, with the last one before and the next one after. */
export function WeldPositionsOfSpan({ machines, from, until }: { machines: readonly { id: number; code: string }[]; from: string; until: string }) {
  const { t } = useTranslation('weldWindows');
  const title = useId();
  const query = useQuery({
    queryKey: ['weld-positions', 'span', machines.map(({ id }) => id).join(), from, until],
    queryFn: async ({ signal }) => {
      const found = await Promise.all(machines.map(({ id }) => call(listWeldPositions, { query: { machine: id, from, until }, signal })));
      return { positions: found.flatMap(({ positions }) => positions), more: found.some(({ more }) => more) };
    },
  });
  return (
    <section aria-labelledby={title}>
      <Title order={2} size="h4" pb="xs" id={title}>{t('facts.trace')}</Title>
      <QueryView query={query} what={t('facts.loading')} isEmpty={({ positions }) => positions.length === 0} empty={<Text c="dimmed">{t('facts.traceNone')}</Text>}>{({ positions, more }) => <SpanTable positions={positions} more={more} />}</QueryView>
    </section>
  );
}

function SpanTable({ positions, more }: { positions: readonly WeldPosition[]; more: boolean }) {
  const { t } = useTranslation('weldWindows');
  const format = useFormat();
  return (
    <Table.ScrollContainer minWidth={720}>
      <Table verticalSpacing="xs">
        <Table.Caption>{t('facts.caption')}{more ? ` ${t('facts.more')}` : ''}</Table.Caption>
        <Table.Thead><Table.Tr>{(['when', 'machine', 'value', 'place', 'said'] as const).map((head) => <Table.Th key={head} scope="col">{t(`facts.${head}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>{positions.map((position) => {
          const { tested, coilSince } = position;
          return (
            <Table.Tr key={`${position.checkId}/${keyOf(position)}`}>
              <Table.Th scope="row">{format.dateTime(position.takenAt)}<Text size="xs" c="dimmed">{t(`facts.${position.when}`)}, <Anchor component={Link} size="xs" underline="always" to={`/checks/${position.checkId}`}>{t('facts.check', { id: position.checkId })}</Anchor></Text></Table.Th>
              <Table.Td>{withPart(t, position.machine, position)}</Table.Td>
              <Table.Td>{settingOf(t, format, position)}<Text size="xs" c="dimmed">{position.characteristic.name}</Text></Table.Td>
              <Table.Td>{tested === null ? t('facts.noWindow') : <>{t('facts.percent', { percent: percentOf(t, format, tested) })}<Text size="xs" c="dimmed">{rangeOf(t, format, position, tested)}</Text></>}</Table.Td>
              <Table.Td>{tested === null ? '–' : wordsOf(t, format, position, tested).map((words) => <Text key={words} size="sm" fw={calm(tested) ? undefined : 600}>{words}</Text>)}{coilSince ? <Text size="xs" c="dimmed">{t('facts.coil', { text: coilSince.text, at: format.dateTime(coilSince.at) })}</Text> : null}</Table.Td>
            </Table.Tr>
          );
        })}</Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}

type Words = TFunction<'weldWindows'>;
const keyOf = ({ characteristic, machineUnit, lane }: WeldPosition): string => `${characteristic.code}/${machineUnit}/${lane}`;
const calm = ({ lowest, highest }: Tested) => lowest.zone === 'inside' && highest.zone === 'inside';

/** With the unit and lane that the setting is charted by, where it is. */
function withPart(t: Words, what: string, { machineUnit, lane }: WeldPosition): string {
  const part = [machineUnit, lane].filter((each) => each !== null).join(', ');
  return part === '' ? what : t('facts.part', { what, part });
}

function settingOf(t: Words, format: Format, { lowest, highest, characteristic: { decimals, unit } }: WeldPosition): string {
  return lowest === highest ? format.withUnit(lowest, decimals, unit) : t('facts.both', { low: format.number(lowest, decimals), high: format.withUnit(highest, decimals, unit) });
}

function percentOf(t: Words, format: Format, { lowest, highest }: Tested): string {
  return lowest.value === highest.value ? format.number(lowest.percent, 0) : t('facts.both', { low: format.number(lowest.percent, 0), high: format.number(highest.percent, 0) });
}

function rangeOf(t: Words, format: Format, { characteristic: { decimals, unit } }: WeldPosition, { window: { window } }: Tested): string {
  return window === null ? '–' : t('range', { lower: format.number(window.lower, decimals), upper: format.withUnit(window.upper, decimals, unit) });
}

/** Both ends of what was read, each once: the lowest may be near one edge and the highest near the other. */
function wordsOf(t: Words, format: Format, { characteristic: { decimals, unit } }: WeldPosition, { lowest, highest }: Tested): string[] {
  const said = [lowest, highest].map((place) => t(`facts.zone.${place.zone}`, { left: format.withUnit(place.zone === 'near-upper' ? place.toUpper : place.toLower, decimals, unit) }));
  const loud = said.filter((_, index) => [lowest, highest][index]?.zone !== 'inside');
  return [...new Set(loud.length > 0 ? loud : said)];
}

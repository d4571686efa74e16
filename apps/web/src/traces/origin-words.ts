import type { TFunction } from 'i18next';
import type { Trace, TraceFinding, TraceOrigin } from '#contract/traces';
import type { Format } from '../shared/format.js';

type Words = TFunction<'traces'>;

export function partOf(t: Words, { unit, lane, lot }: TraceOrigin): string {
  return lot ? lot.text : unit ? t('part.unit', { code: unit.code }) : lane ? t('part.lane', { code: lane.code }) : '';
}

export const whereOf = (t: Words, origin: TraceOrigin): string => t(`where.${origin.pattern}`, { machine: `${origin.machine.code} ${origin.machine.name}`, part: partOf(t, origin) });

/** A share in whole percent; never quite nothing and never quite certain. */
export function sharePercent(share: number): string {
  const percent = Math.round(share * 100);
  return percent === 0 ? '< 1' : percent === 100 ? '> 99' : String(percent);
}

/** "40 times likelier by it"; a factor near one says little. */
export function timesWords(t: Words, times: number): string {
  const round = (value: number) => (value >= 1000 ? '> 1000' : String(Number(value.toPrecision(2))));
  return times >= 1.25 ? t('times.more', { times: round(times) }) : times <= 0.8 ? t('times.less', { times: round(1 / times) }) : t('times.same');
}

/** One finding as a sentence with its numbers; signals are links and not said here. */
export function findingWords(t: Words, format: Format, finding: TraceFinding, streams: Trace['streams']): string {
  const name = (code: string) => streams.find(({ characteristic }) => characteristic === code)?.characteristicName ?? code.replaceAll('-', ' ');
  const of = (ids: readonly number[]) => {
    const used = streams.filter(({ id }) => ids.includes(id));
    return used.length === 1 && used[0] ? [used[0].machine, used[0].part].filter(Boolean).join(' ') : t('finding.streamsMany', { count: ids.length });
  };
  const moment = (at: string | null) => (at === null ? t('finding.none') : format.dateTime(at));
  switch (finding.kind) {
    case 'taxonomy': return t('finding.taxonomy', { percent: Math.round(finding.share * 100) });
    case 'material': return t('finding.material', { percent: Math.round(finding.share * 100), material: t(`material.${finding.material}`) });
    case 'shifted': {
      const stream = streams.find(({ id }) => finding.streamIds.includes(id));
      return t('finding.shifted', {
        characteristic: name(finding.characteristic), size: signed(finding.size, 1), streams: of(finding.streamIds), points: finding.points,
        value: stream?.sigma ? `${signed(finding.size * stream.sigma, stream.decimals)} ${stream.unit}` : '–',
        lastGood: finding.lastGoodAt === null ? t('finding.noLast') : format.dateTime(finding.lastGoodAt), firstBad: format.dateTime(finding.firstBadAt),
        next: finding.nextGoodAt === null ? t('finding.noNext') : t('finding.next', { at: format.dateTime(finding.nextGoodAt) }),
      });
    }
    case 'steady': return t('finding.steady', { characteristic: name(finding.characteristic), streams: of(finding.streamIds) });
    case 'periodic': return t('finding.periodic', { characteristic: name(finding.characteristic), period: finding.period, size: signed(finding.size, 1), members: finding.members });
    case 'no-readings': return t('finding.noReadings', { characteristics: finding.characteristics.map(name).join(', ') });
    case 'signals': return t('finding.signals');
    case 'entry': return t('finding.entry', { kind: finding.eventKind.replaceAll('-', ' '), text: finding.text, at: format.dateTime(finding.at) });
    case 'no-entry': return t('finding.noEntry');
    case 'missed-checks': {
      const about = { plan: finding.plan, last: moment(finding.lastAt), next: moment(finding.nextAt) };
      if (finding.openedBy !== null) return t('finding.missedEvent', { ...about, kind: finding.openedBy.replaceAll('-', ' ') });
      return finding.everyCans !== null ? t('finding.missedCans', { ...about, every: finding.everyCans }) : t('finding.missed', { ...about, every: finding.everyMinutes ?? '' });
    }
    case 'mark': return finding.fits ? t('finding.markFits') : t('finding.markNot');
  }
}

export const signed = (value: number, decimals: number): string => `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(decimals)}`;

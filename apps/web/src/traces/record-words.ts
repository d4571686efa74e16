import type { TFunction } from 'i18next';
import type { Surrounding } from '#contract/incidents';

/** What a record is, in words. */
export function recordWords(t: TFunction<'traces'>, entry: Surrounding): string {
  switch (entry.kind) {
    case 'check': return t('records.check', { who: entry.inspector });
    case 'signal': return [entry.characteristicName, entry.machineUnit, entry.lane, entry.rule.replaceAll('-', ' '), entry.side].filter(Boolean).join(', ');
    case 'event': return t('records.event', { kind: entry.eventKind.replaceAll('-', ' '), text: entry.text, who: entry.actor });
    case 'missed': return entry.openedBy !== null ? t('records.missedEvent', { plan: entry.plan, kind: entry.openedBy.replaceAll('-', ' ') })
      : entry.everyCans !== null ? t('records.missedCans', { plan: entry.plan, every: entry.everyCans, due: entry.due }) : t('records.missedPlan', { plan: entry.plan, every: entry.everyMinutes ?? '', due: entry.due });
  }
}

/** The page of a record; an entry of the log book has none beyond what is said of it. */
export function sourceOf(entry: Surrounding): string | null {
  return entry.kind === 'check' ? `/checks/${entry.checkId}` : entry.kind === 'signal' ? `/signals/${entry.signalId}` : null;
}

/** Where the list below the timeline has it. One plan can be missed by its cans and after an event at the same moment. */
export function keyOf(entry: Surrounding): string {
  switch (entry.kind) {
    case 'check': return `record-check-${entry.checkId}`;
    case 'signal': return `record-signal-${entry.signalId}`;
    case 'event': return `record-event-${entry.eventId}`;
    case 'missed': return `record-missed-${entry.machineId}-${Date.parse(entry.at)}-${entry.openedBy ?? entry.everyCans ?? ''}-${entry.plan.replaceAll(/\W/g, '')}`;
  }
}

/** What is said when a record is pointed at: what it is, the shift, and the gauges of a check. */
export function recordHint(t: TFunction<'traces'>, entry: Surrounding): string[] {
  return [
    recordWords(t, entry), ...(entry.shift === null ? [] : [t('records.onShift', { shift: entry.shift })]),
    ...(entry.kind === 'check' ? entry.gauges.map(({ code, overdue }) => (overdue ? t('records.overdueGauge', { code }) : t('records.gauge', { code }))) : []),
  ];
}

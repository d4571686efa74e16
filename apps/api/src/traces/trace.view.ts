import { cautionFor } from '#canmaking/defects/cautions';
import { findDefect } from '#canmaking/defects/taxonomy';
import { cansFromCounts } from '#canmaking/line/cans-at-risk';
import type { Trace, TraceFinding, TraceOrigin, TraceSuspect } from '#contract/traces';
import type { Evidence, LineMap } from '#tracing/evidence';
import type { Finding, Origin, StepWindow, Trace as Ranked } from '#tracing/origin';
import { type Lot, type LotInUse, lotsInUse } from '#tracing/lots';
import { missedChecks } from '#tracing/missed-checks';
import { chain, placed, walkOn } from '#tracing/stretches';
import type { NamedStream, TracedLine } from './evidence.store.js';

const iso = (at: number): string => new Date(at).toISOString();
const isoOrNull = (at: number | null): string | null => (at === null ? null : iso(at));
type Given = { evidence: Evidence; traced: Ranked; line: TracedLine; streams: readonly NamedStream[]; span: { from: Date; until: Date }; asOf: Date; defect: Trace['defect']; take: number };

/** The ranking with the names that people know, and what is suspect by each origin. */
export function traceView({ evidence, traced, line, streams, span, asOf, defect: named, take }: Given): Omit<Trace, 'weights'> {
  const shown = traced.origins.slice(0, take);
  const used = streamsOf(shown);
  const lots = lotsInUse(evidence, traced.windows);
  const defect = findDefect(evidence.complaint.defect);
  return {
    asOf: asOf.toISOString(), line: { id: line.map.id, code: line.code, name: line.name }, codedAtStepId: evidence.complaint.codedAtStepId,
    recordsFrom: span.from.toISOString(), recordsUntil: span.until.toISOString(), clockMinutes: line.map.clockMinutes,
    windows: traced.windows.map((window) => windowView(window, evidence, line)),
    origins: shown.map((origin) => originView(origin, evidence, line, lots)),
    lots: lots.map((lot) => lotView(lot, line.map, streams)), places: traced.origins.length, defect: named, others: Math.max(0, 1 - shown.reduce((sum, { share }) => sum + share, 0)),
    streams: streams.filter(({ traced: { id } }) => used.has(id)).map(({ traced: stream, characteristicName, unit, decimals }) => ({
      id: stream.id, characteristic: stream.characteristic, characteristicName, unit, decimals, machine: machineOf(line.map, stream.machineId)?.code ?? '',
      part: partCode(line.map, stream.machineId, stream.unitId, stream.laneId), sigma: stream.limits?.sigma ?? null, points: stream.points.length,
    })),
    howToCheck: defect?.howToCheck ?? '', caution: cautionFor(evidence.complaint.defect) ?? '',
  };
}

const streamsOf = (origins: readonly { readonly findings: readonly (Finding | TraceFinding)[] }[]): ReadonlySet<number> => new Set(origins.flatMap(({ findings }) => findings.flatMap((finding) => ('streamIds' in finding ? finding.streamIds : []))));

/** The first places of a ranking, with the streams that they speak of. */
export function firstPlaces(trace: Trace, take: number): Trace {
  const origins = trace.origins.slice(0, take);
  const used = streamsOf(origins);
  return { ...trace, origins, others: trace.origins.slice(take).reduce((sum, { share }) => sum + share, trace.others), streams: trace.streams.filter(({ id }) => used.has(id)) };
}

function windowView(window: StepWindow, evidence: Evidence, line: TracedLine): Trace['windows'][number] {
  const { counts, checks, signals, events, streams } = evidence;
  const machines = line.map.steps.find(({ id }) => id === window.stepId)?.machines ?? [];
  return {
    stepId: window.stepId, stepKind: window.stepKind, from: iso(window.from), until: iso(window.until), basis: window.basis,
    machines: machines.map(({ id, code }) => {
      const own = counts.filter(({ machineId, at, minutes }) => machineId === id && at < window.until && at + minutes * 60_000 > window.from);
      const counted = counts.some(({ machineId }) => machineId === id);
      const streamIds = new Set(streams.filter(({ machineId }) => machineId === id).map((stream) => stream.id));
      return {
        id, code, name: line.names.get(id) ?? code,
        good: counted ? own.reduce((sum, { good }) => sum + good, 0) : null, rejected: counted ? own.reduce((sum, { rejected }) => sum + rejected, 0) : null,
        checks: checks.filter(({ machineId, at }) => machineId === id && at >= window.from && at <= window.until).length,
        signals: signals.filter(({ streamId, firstAt, lastAt }) => streamIds.has(streamId) && firstAt <= window.until && lastAt >= window.from).length,
        entries: events.filter(({ machineId, at, until }) => machineId === id && at <= window.until && (until ?? at) >= window.from).length,
        missed: missedChecks(evidence, id, window).map(({ plan }) => plan),
      };
    }),
  };
}

const lotOf = (eventId: number | null, lots: readonly Lot[]): TraceOrigin['lot'] => {
  const lot = lots.find((on) => on.eventId === eventId);
  return lot ? { eventId: lot.eventId, kind: lot.kind, text: lot.text, from: iso(lot.from), until: isoOrNull(lot.until) } : null;
};

function originView(origin: Origin, evidence: Evidence, line: TracedLine, lots: readonly Lot[]): TraceOrigin {
  const { stepKind, machineId, unitId, laneId, lotEventId, pattern, share, enoughData, findings } = origin;
  const code = machineOf(line.map, machineId)?.code ?? '';
  const unit = machineOf(line.map, machineId)?.units.find(({ id }) => id === unitId);
  const lane = line.map.lanes.find(({ id }) => id === laneId);
  return {
    stepKind, machine: { id: machineId, code, name: line.names.get(machineId) ?? code }, unit: unit ? { id: unit.id, code: unit.code } : null, lane: lane ? { id: lane.id, code: lane.code } : null,
    lot: lotOf(lotEventId, lots), pattern, share, enoughData, findings: findings.map((finding) => findingView(finding, evidence)), suspect: suspectOf(origin, evidence),
  };
}

function findingView(finding: Finding, { events }: Evidence): TraceFinding {
  switch (finding.kind) {
    case 'shifted': return { ...finding, streamIds: [...finding.streamIds], lastGoodAt: isoOrNull(finding.lastGoodAt), firstBadAt: iso(finding.firstBadAt), lastBadAt: iso(finding.lastBadAt), nextGoodAt: isoOrNull(finding.nextGoodAt) };
    case 'steady': case 'periodic': return { ...finding, streamIds: [...finding.streamIds] };
    case 'no-readings': return { ...finding, characteristics: [...finding.characteristics] };
    case 'signals': return { ...finding, signalIds: [...finding.signalIds] };
    case 'entry': {
      const entry = events.find(({ id }) => id === finding.eventId);
      return { ...finding, at: iso(finding.at), eventKind: entry?.kind ?? '', text: entry?.text ?? '' };
    }
    case 'missed-checks': return { ...finding, lastAt: isoOrNull(finding.lastAt), nextAt: isoOrNull(finding.nextAt) };
    default: return finding;
  }
}

/** From the last good check before the shift to the next good one after it; null where no reading says that anything moved. */
function suspectOf(origin: Origin, { line, counts, now, complaint }: Evidence): TraceSuspect | null {
  const moved = origin.findings.find((finding) => finding.kind === 'shifted');
  if (!moved) return null;
  const [from, until] = [moved.lastGoodAt, moved.nextGoodAt ?? now];
  const own = counts.filter(({ machineId }) => machineId === origin.machineId);
  const { cans, uncoveredMinutes } = cansFromCounts(own, from ?? moved.firstBadAt, until);
  const units = machineOf(line, origin.machineId)?.units.length ?? 1;
  const shareOf = origin.unitId !== null ? units : origin.laneId !== null ? line.lanes.length : 1;
  const [place, coded] = [line.steps.findIndex(({ id }) => id === origin.stepId), line.steps.findIndex(({ id }) => id === complaint.codedAtStepId)];
  const way = place < coded ? chain(placed(line), place, coded) ?? [] : [];
  const there = walkOn({ from: from ?? moved.firstBadAt, until }, way);
  return {
    from: isoOrNull(from), until: iso(until), openEnded: moved.nextGoodAt === null, codedFrom: from === null ? null : iso(there.from), codedUntil: iso(Math.min(there.until, now)),
    counted: own.length > 0 ? cans : null, uncoveredMinutes, shareOf, atRisk: own.length > 0 ? Math.ceil(cans / shareOf) : null,
  };
}

function lotView({ eventId, machineId, kind, text, from, until, moved }: LotInUse, line: LineMap, streams: readonly NamedStream[]): Trace['lots'][number] {
  const nameOf = (code: string): string => streams.find(({ traced }) => traced.characteristic === code)?.characteristicName ?? code;
  const stepKind = line.steps.find(({ machines }) => machines.some(({ id }) => id === machineId))?.kind ?? '';
  return { eventId, machine: { id: machineId, code: machineOf(line, machineId)?.code ?? '' }, stepKind, kind, text, from: iso(from), until: isoOrNull(until), moved: moved && { ...moved, characteristic: nameOf(moved.characteristic) } };
}

const machineOf = (line: LineMap, machineId: number) => line.steps.flatMap(({ machines }) => machines).find(({ id }) => id === machineId);

function partCode(line: LineMap, machineId: number, unitId: number | null, laneId: number | null): string | null {
  return machineOf(line, machineId)?.units.find(({ id }) => id === unitId)?.code ?? line.lanes.find(({ id }) => id === laneId)?.code ?? null;
}

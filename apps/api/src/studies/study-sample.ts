import type { StreamReadings } from './stream-readings.store.js';
import type { GaugeUse, StreamSignal } from './studies.store.js';

/** What one row of a study rests on: one stream, or several pooled. */
export type StudySample = Omit<StreamReadings, 'id'> & { streamId: number | null; points: number; signals: StreamSignal[]; gauges: Omit<GaugeUse, 'streamId'>[]; sameChart: boolean };

/** A subgroup without a reading: no moving range reaches across it. */
const GAP: StreamReadings['groups'][number] = [[], 1];

export function sampleOfStream(stream: StreamReadings, signals: readonly StreamSignal[], gauges: readonly GaugeUse[]): StudySample {
  const { id, ...rest } = stream;
  return {
    ...rest, streamId: id, points: stream.groups.length, sameChart: true,
    signals: signals.filter((signal) => signal.streamId === id),
    gauges: gauges.filter((gauge) => gauge.streamId === id).map(({ streamId: _stream, ...gauge }) => gauge),
  };
}

/** All streams one behind the other, with a gap between them; null when there are fewer than two. */
export function pooledSample(samples: readonly StudySample[]): StudySample | null {
  const [first] = samples;
  if (!first || samples.length < 2) return null;
  const sum = (pick: (sample: StudySample) => number) => samples.reduce((total, sample) => total + pick(sample), 0);
  const gauges = new Map<number, StudySample['gauges'][number]>();
  for (const gauge of samples.flatMap((sample) => sample.gauges)) {
    const known = gauges.get(gauge.id);
    gauges.set(gauge.id, known ? { ...known, subgroups: known.subgroups + gauge.subgroups, overdue: known.overdue + gauge.overdue } : gauge);
  }
  return {
    streamId: null, unit: null, lane: null, chartKind: first.chartKind, basis: first.basis,
    sameChart: samples.every((sample) => sample.chartKind === first.chartKind && sample.basis === first.basis),
    rules: first.rules.filter((rule) => samples.every((sample) => sample.rules.includes(rule))),
    judged: sum((sample) => sample.judged), points: sum((sample) => sample.points), corrected: sum((sample) => sample.corrected), withoutGauge: sum((sample) => sample.withoutGauge),
    formulas: [...new Set(samples.flatMap((sample) => sample.formulas))].sort(), withoutFormula: samples.some((sample) => sample.withoutFormula),
    groups: samples.flatMap((sample, index) => (index === 0 ? sample.groups : [GAP, ...sample.groups])),
    signals: samples.flatMap((sample) => sample.signals), gauges: [...gauges.values()],
  };
}

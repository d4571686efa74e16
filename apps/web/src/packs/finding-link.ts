import type { PackFinding } from '#contract/packs';

/** The screen on which a finding is mended or explained. Days are calendar days of the plant. */
export function findingLink(finding: PackFinding, { from, to }: { from: string; to: string }): string {
  const { kind, streamId, signalId, productId, machineId, characteristicId } = finding;
  const capability = `/capability?product=${productId}&machine=${machineId}&characteristic=${characteristicId}&from=${from}&to=${to}`;
  switch (kind) {
    case 'signal-without-cause': return `/signals/${signalId}`;
    case 'not-stable': case 'not-judged': case 'gauge-unknown': return `/charts?stream=${streamId}`;
    case 'few-data': case 'below-threshold': return capability;
    case 'no-specification': case 'specification-changed': return '/set-up?section=specifications';
    case 'calibration-overdue': return '/studies/gauges';
    case 'no-gauge-study': case 'gauge-study-failed': return '/studies';
    case 'missed-checks': return '/set-up?section=plans';
    case 'unsigned': return '/records';
    case 'no-data': return '/import';
  }
}

import type { PackSubject } from '../../packs/pack-content.js';

/** Which gauge measured which characteristic, each pair once, in the order of the subjects; readings that name no gauge stand as one without (null). */
export function gaugesByCharacteristic(subjects: readonly PackSubject[]): { characteristic: PackSubject['characteristic']; gaugeId: number | null }[] {
  const pairs = new Map<string, { characteristic: PackSubject['characteristic']; gaugeId: number | null }>();
  for (const { characteristic, streams } of subjects) {
    const gaugeIds = new Set(streams.flatMap(({ subgroups }) => subgroups.map((group) => group[5])));
    for (const gaugeId of [...gaugeIds].sort((a, b) => (a ?? 0) - (b ?? 0))) pairs.set(`${characteristic.id} ${gaugeId}`, { characteristic, gaugeId });
  }
  return [...pairs.values()];
}

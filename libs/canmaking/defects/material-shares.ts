import type { StepKind } from '../line/steps.js';

/** What comes to a line in lots. */
export type Material = 'plate' | 'wire' | 'ends' | 'lacquer';
export const materials: readonly Material[] = ['plate', 'wire', 'ends', 'lacquer'];

/** Steps that take a material in, so that a lot of it comes on there. */
const takenAt: Readonly<Record<Material, readonly StepKind[]>> = { plate: ['slitter', 'body-maker'], wire: ['body-maker'], ends: ['seamer'], lacquer: ['stripe-applicator'] };

type Shares = Readonly<Partial<Record<Material, number>>>;
/** Of the faults that begin at a step taking the material, so many lie in the lot and not in the machine, whatever the defect. */
const usual: Readonly<Record<Material, number>> = { plate: 0.15, wire: 0.06, ends: 0.12, lacquer: 0.15 };

/** The same where the defect itself speaks for the material, or against it. */
const byDefect: Readonly<Record<string, Shares>> = {
  'cold-weld': { plate: 0.3, wire: 0.08 }, 'open-weld': { plate: 0.2, wire: 0.06 }, splash: { plate: 0.15, wire: 0.12 }, pinhole: { plate: 0.2, wire: 0.12 },
  'weld-contamination': { plate: 0.45, wire: 0.05 }, 'haz-crack': { plate: 0.35, wire: 0.03 }, 'flange-crack': { plate: 0.3, wire: 0.03 },
  'weld-step': { plate: 0.08, wire: 0.02 }, 'wide-lap': { plate: 0.05, wire: 0.02 }, 'narrow-lap': { plate: 0.05, wire: 0.02 },
  'loose-seam': { ends: 0.2 }, 'low-tightness': { ends: 0.2 }, 'sharp-seam': { ends: 0.15 }, 'compound-squeeze-out': { ends: 0.5 }, 'peaked-end': { ends: 0.7 },
  'knocked-down-curl': { ends: 0.35 }, 'deep-countersink': { ends: 0.1 }, 'short-cover-hook': { ends: 0.1 }, 'long-cover-hook': { ends: 0.1 }, vee: { ends: 0.15 },
  'short-body-hook': { ends: 0.03 }, 'long-body-hook': { ends: 0.03 }, deadhead: { ends: 0.03 }, skid: { ends: 0.05 }, 'broken-chuck-mark': { ends: 0.01 },
  'stripe-void': { lacquer: 0.2 }, 'thin-stripe': { lacquer: 0.2 }, 'stripe-delamination': { lacquer: 0.3, plate: 0.25 },
};

/**
 * Share of the faults of a defect at a step that lie in a lot of the material, 0 where the step takes none of it in. They add up to
 * less than 1 over the materials of a step: the rest lies in the machine. Common practice, no source.
 */
export function materialShare(defectCode: string, step: StepKind, material: Material): number {
  if (!takenAt[material].includes(step)) return 0;
  const own: Shares | undefined = Object.hasOwn(byDefect, defectCode) ? byDefect[defectCode] : undefined;
  return own?.[material] ?? usual[material];
}

/** The material of which a log-book entry brings a new lot; ends are often written as a coil. Null: an entry of another kind. */
export function materialOf(entryKind: string, step: StepKind): Material | null {
  if (entryKind === 'coil-change') return step === 'seamer' ? 'ends' : takenAt.plate.includes(step) ? 'plate' : null;
  if (entryKind === 'wire-change') return step === 'body-maker' ? 'wire' : null;
  if (entryKind === 'end-lot-change') return step === 'seamer' ? 'ends' : null;
  if (entryKind === 'lacquer-change') return step === 'stripe-applicator' ? 'lacquer' : null;
  return null;
}

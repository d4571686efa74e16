import { likelyOrigins } from './likely-origins.js';
import { defects } from './taxonomy.js';

export type SignalSide = 'above' | 'below';

/**
 * What cans are called when a measurement has moved to one side: the usual name of the trade. Common practice, no source.
 * A side that is missing makes no defect of its own.
 */
const NAMES: Readonly<Record<string, Partial<Record<SignalSide, string>>>> = {
  'weld-overlap': { above: 'wide-lap', below: 'narrow-lap' },
  // A cold weld is squeezed less and stays thicker; a hot one is squeezed out.
  'weld-thickness': { above: 'cold-weld', below: 'splash' },
  'stripe-film': { below: 'thin-stripe' },
  'flange-width': { above: 'long-body-hook', below: 'short-flange' },
  'seam-thickness': { above: 'loose-seam', below: 'sharp-seam' },
  'free-space': { above: 'loose-seam', below: 'sharp-seam' },
  'seam-length': { above: 'short-cover-hook', below: 'long-cover-hook' },
  'body-hook': { above: 'long-body-hook', below: 'short-body-hook' },
  'body-hook-butting': { above: 'long-body-hook', below: 'short-body-hook' },
  'cover-hook': { above: 'long-cover-hook', below: 'short-cover-hook' },
  countersink: { above: 'deep-countersink' },
  tightness: { below: 'low-tightness' },
  'seam-overlap': { below: 'low-overlap' },
  'percent-overlap': { below: 'low-overlap' },
};

/** The defect that a signal on this side of the characteristic warns of; null where it has no usual name and people have to say. */
export function defectOfSignal(characteristic: string, side: string): string | null {
  return side === 'above' || side === 'below' ? NAMES[characteristic]?.[side] ?? null : null;
}

/** Codes of the defects in which a fault would show in this characteristic, those first that it tells of most. */
export function defectsShownBy(characteristic: string): string[] {
  const told = (code: string): number => likelyOrigins(code).filter(({ characteristics }) => characteristics.includes(characteristic)).reduce((sum, { weight }) => sum + weight, 0);
  return defects.map(({ code }) => ({ code, share: told(code) })).filter(({ code, share }) => share > 0 && code !== 'leaker').sort((a, b) => b.share - a.share).map(({ code }) => code);
}

import { origin, type LikelyOrigin } from './origin.js';

const engaged = ['seam-overlap', 'percent-overlap'];
const weld = ['weld-thickness', 'weld-overlap'];

/** Likely origins of the double-seam defects. Common practice, no source. */
export const seamOrigins: Readonly<Record<string, readonly LikelyOrigin[]>> = {
  cutover: [origin('body-maker', 0.2, 'lane', ...weld), origin('seamer', 0.8, 'unit', 'seam-thickness', 'countersink', 'free-space', 'seam-length')],
  'sharp-seam': [origin('seamer', 1, 'unit', 'seam-thickness', 'countersink', 'free-space', 'seam-length')],
  droop: [
    origin('body-maker', 0.4, 'lane', ...weld), origin('flanger', 0.15, 'unit', 'flange-width', 'body-hook'),
    origin('seamer', 0.45, 'unit', 'body-hook', 'cover-hook', 'seam-length', ...engaged),
  ],
  vee: [origin('body-maker', 0.2, 'lane', ...weld), origin('seamer', 0.8, 'unit', 'cover-hook', 'seam-length', ...engaged)],
  'false-seam': [origin('flanger', 0.35, 'unit', 'flange-width'), origin('seamer', 0.4, 'unit', 'cover-hook', ...engaged), origin('palletizer', 0.25, 'machine')],
  'knocked-down-flange': [origin('flanger', 0.4, 'unit', 'flange-width'), origin('seamer', 0.3, 'machine'), origin('palletizer', 0.3, 'machine')],
  'knocked-down-curl': [origin('seamer', 1, 'machine')],
  deadhead: [origin('seamer', 1, 'unit', 'seam-thickness', 'tightness', 'free-space', 'body-hook')],
  skid: [origin('seamer', 1, 'unit', 'seam-thickness', 'tightness', 'free-space')],
  'broken-chuck-mark': [origin('seamer', 1, 'unit', 'countersink', 'seam-thickness')],
  'cut-seam': [origin('palletizer', 1, 'machine')],
  'compound-squeeze-out': [origin('seamer', 1, 'unit', 'seam-thickness', 'free-space', 'tightness')],
  'jumped-seam': [origin('body-maker', 0.4, 'lane', ...weld), origin('seamer', 0.6, 'unit', 'seam-thickness', 'tightness', 'free-space')],
  'loose-seam': [origin('seamer', 1, 'unit', 'seam-thickness', 'free-space', 'tightness')],
  'low-tightness': [origin('seamer', 1, 'unit', 'tightness', 'seam-thickness', 'free-space')],
  'short-body-hook': [
    origin('parter', 0.1, 'lane', 'flange-width', 'body-hook'), origin('flanger', 0.35, 'unit', 'flange-width', 'body-hook'),
    origin('seamer', 0.55, 'unit', 'body-hook', 'body-hook-butting', ...engaged),
  ],
  'long-body-hook': [
    origin('parter', 0.05, 'lane', 'flange-width', 'body-hook'), origin('flanger', 0.35, 'unit', 'flange-width', 'body-hook'),
    origin('seamer', 0.6, 'unit', 'body-hook', 'body-hook-butting'),
  ],
  'short-cover-hook': [origin('seamer', 1, 'unit', 'cover-hook', 'countersink', 'seam-length', ...engaged)],
  'long-cover-hook': [origin('seamer', 1, 'unit', 'cover-hook', 'seam-length')],
  'low-overlap': [
    origin('flanger', 0.25, 'unit', 'flange-width', 'body-hook'),
    origin('seamer', 0.75, 'unit', 'cover-hook', 'body-hook', 'seam-length', 'countersink', 'body-hook-butting', ...engaged),
  ],
  'deep-countersink': [origin('seamer', 1, 'unit', 'countersink', 'cover-hook', 'seam-length')],
  // Rarely seen by a seam point: those keep away from the weld, so the weld itself is asked first.
  'juncture-leak': [
    origin('slitter', 0.15, 'lane', 'weld-overlap'), origin('body-maker', 0.45, 'lane', ...weld),
    origin('flanger', 0.15, 'unit', 'flange-width'), origin('seamer', 0.25, 'unit', 'cover-hook', 'seam-thickness', 'tightness', ...engaged),
  ],
};

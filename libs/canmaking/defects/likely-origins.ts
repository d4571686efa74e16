import { mix, origin, type LikelyOrigin } from './origin.js';
import { seamOrigins } from './origins-of-seam.js';
import { bodyOrigins } from './origins-of-body.js';
import type { LeakPlace } from './taxonomy.js';

/** Where a leak at that place is likely to begin. Common practice, no source. */
const placeOrigins: Record<Exclude<LeakPlace, 'unknown'>, readonly LikelyOrigin[]> = {
  "double seam, maker's end": [
    origin('seamer', 0.65, 'unit', 'cover-hook', 'body-hook', 'seam-overlap', 'percent-overlap', 'tightness', 'seam-thickness', 'seam-length', 'countersink', 'free-space', 'body-hook-butting'),
    origin('flanger', 0.2, 'unit', 'flange-width', 'body-hook'), origin('parter', 0.05, 'lane', 'flange-width', 'body-hook'),
    origin('body-maker', 0.05, 'lane', 'weld-thickness', 'weld-overlap'), origin('palletizer', 0.05, 'machine'),
  ],
  // Sealed by the packer's seamer: of this line only flange, body and handling can be the cause.
  "double seam, packer's end": [
    origin('flanger', 0.45, 'unit', 'flange-width'), origin('parter', 0.1, 'lane', 'flange-width'),
    origin('body-maker', 0.2, 'lane', 'weld-thickness', 'weld-overlap'), origin('palletizer', 0.25, 'machine'),
  ],
  juncture: seamOrigins['juncture-leak'] ?? [],
  'side seam': [
    origin('slitter', 0.25, 'lane', 'weld-overlap'), origin('body-maker', 0.7, 'lane', 'weld-overlap', 'weld-thickness'),
    origin('stripe-applicator', 0.05, 'machine', 'stripe-film'),
  ],
  flange: [
    origin('slitter', 0.1, 'lane', 'weld-overlap'), origin('body-maker', 0.3, 'lane', 'weld-thickness', 'weld-overlap'), origin('parter', 0.1, 'lane', 'flange-width'),
    origin('flanger', 0.4, 'unit', 'flange-width'), origin('palletizer', 0.1, 'machine'),
  ],
  body: [
    origin('slitter', 0.1, 'lane'), origin('body-maker', 0.15, 'machine', 'weld-thickness'), origin('stripe-applicator', 0.2, 'machine', 'stripe-film'),
    origin('curing-oven', 0.05, 'machine'), origin('beader', 0.2, 'machine'), origin('palletizer', 0.3, 'machine'),
  ],
  end: [origin('seamer', 0.8, 'unit', 'countersink', 'seam-length'), origin('palletizer', 0.2, 'machine')],
};

/**
 * Of 764 swelled low-acid cans of the 1981 study (J. Food Protection 44(9), 692, abstract read) most leaks were at the
 * packer's end and the juncture was the worst single place. These shares are for complaints that reach a maker of cans
 * and are common practice, no source.
 */
const placeShares: Record<Exclude<LeakPlace, 'unknown'>, number> = {
  juncture: 0.3, "double seam, maker's end": 0.25, 'side seam': 0.2, flange: 0.1, "double seam, packer's end": 0.05, body: 0.08, end: 0.02,
};

// What escaped was also let through: the tester is no origin, but one pocket that does not see is found by looking there.
const letThrough = [origin('tester', 1, 'unit')];

function spread(): LikelyOrigin[] {
  const places = Object.keys(placeOrigins) as Exclude<LeakPlace, 'unknown'>[];
  return mix([...places.map((place) => ({ share: 0.95 * placeShares[place], origins: placeOrigins[place] })), { share: 0.05, origins: letThrough }]);
}

const byDefect = new Map(Object.entries({ ...seamOrigins, ...bodyOrigins, leaker: spread() }));

/**
 * Steps at which a defect of the taxonomy is likely to begin; weights sum to 1. Common practice, no source. Empty for a
 * code that the taxonomy does not hold.
 */
export function likelyOrigins(defectCode: string): readonly LikelyOrigin[] {
  return byDefect.get(defectCode) ?? [];
}

/** The same where only the place of the leak is known; a place that is unknown gives the spread over all places. */
export function originsByPlace(place: LeakPlace): readonly LikelyOrigin[] {
  return place === 'unknown' ? likelyOrigins('leaker') : placeOrigins[place];
}

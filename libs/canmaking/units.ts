// Plain aliases, not brands: every seam formula holds in any one length unit (the law writes it in inches, plants in
// millimetres), and readings arrive as JSON numbers. The alias documents; the product stores millimetres throughout.
export type Millimetre = number;
export type Percent = number;
export type Seconds = number;
/** Milliseconds since 1970-01-01 UTC. */
export type EpochMs = number;

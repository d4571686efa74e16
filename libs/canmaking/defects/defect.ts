import type { StepKind } from '../line/steps.js';

export type DefectPlace = 'double seam' | 'side seam' | 'flange' | 'body' | 'end' | 'coating';

/** Severity schemes use different classes for different purposes: they are kept apart and never translated into each other. */
export type SeverityScheme = 'CFIA' | '7 CFR 42' | 'AFDO' | 'FAO/Codex';

/** How well a class is known: read in its publication, quoted by another text, habit of the trade, or memory. */
export type SeverityBasis = 'published' | 'second-hand' | 'common practice, no source' | 'from memory';

export type Severity = { scheme: SeverityScheme; class: string; basis: SeverityBasis };

export type Defect = {
  /** Kebab-case, stable: stored with incidents and notes. */
  code: string;
  name: string;
  place: DefectPlace;
  where: string;
  definition: string;
  severities: readonly Severity[];
  /** Steps that can seed it, in process order. */
  upstreamSteps: readonly StepKind[];
  /** Common practice, no source, unless `sources` names one for the cause. */
  causes: readonly string[];
  howToCheck: string;
  sources: readonly string[];
};

// Publications, as far as they were read. Causes and checks without one of these are common practice, no source.
export const cfr113 = '21 CFR 113.3 and 113.60, 2015 edition (read in full)';
export const cfr42 = '7 CFR 42.112 and 42.114 (read in full)';
export const cfia = 'CFIA Metal Can Defects manual, chapter 5 (excerpts, partly second-hand)';
export const cfiaHandling = 'CFIA Metal Can Defects manual, handling chapters (second-hand)';
export const afdo = 'AFDO Pocket Guide to Can Defects (opening pages read)';
export const fao = 'FAO Manuals of food quality control 17, 1998 (contents list read)';
export const codex = 'Codex CAC/GL 17-1993 (excerpt read)';
export const gbt = 'GB/T 14251-2017 (term list read)';
export const seamPage = 'Dimensional defects of seam, open canning technical page (read in part)';
export const leakStudy = 'Leakage potential of swelled cans of low-acid foods, J. Food Protection 44(9) 1981, 692 (abstract read)';

export const faoUnacceptable: Severity = { scheme: 'FAO/Codex', class: 'unacceptable', basis: 'published' };
export const cfiaSerious: Severity = { scheme: 'CFIA', class: 'Serious', basis: 'second-hand' };
export const cfiaSeriousFromMemory: Severity = { scheme: 'CFIA', class: 'Serious', basis: 'from memory' };
export const cfiaMinor: Severity = { scheme: 'CFIA', class: 'Minor', basis: 'second-hand' };

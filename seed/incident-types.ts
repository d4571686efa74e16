import type { LeakPlace } from '#canmaking/defects/taxonomy';
import type { Moment } from './faults.js';

/** Days below zero lie before the records of the scenario. */
export type SeedIncident = {
  code: string;
  kind: 'complaint' | 'in-house';
  state: 'open' | 'closed';
  /** Whose cans they are, also for an in-house finding. */
  customer: string;
  productCode: string; lineCode: string;
  /** Half of a double-high body, where the code on the can tells it. */
  laneCode: string | null;
  /** Seaming head, where a mark on the can tells it. */
  unitCode: string | null;
  /** What the code on the can says. */
  madeAt: Moment;
  receivedAt: Moment;
  closedAt: Moment | null;
  cansComplained: number; cansExamined: number; cansLeaking: number;
  leakPlace: LeakPlace;
  defectCode: string;
  description: string;
  containment: string;
  /** Empty while it is open. */
  cause: string; action: string; closingNote: string;
  /** A login. */
  loggedBy: string;
  /** The true fault behind it, or null where the charts of the plant have nothing to show. */
  faultCode: string | null;
  noteTitles: string[];
};

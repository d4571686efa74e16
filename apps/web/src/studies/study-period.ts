import type { CapabilityChoice } from '#contract/studies';
import type { Format } from '../shared/format.js';
import { type CapabilityView, shiftDay } from './capability.url.js';

/** Calendar days of the plant, both part of the period; `lastDay` is the last one with readings. */
export type StudyPeriod = { from: string; to: string; lastDay: string };

/** The days of the address, or the last 30 that were measured. */
export function studyPeriod(view: CapabilityView, choice: CapabilityChoice, format: Pick<Format, 'toInput'>): StudyPeriod {
  const lastDay = format.toInput(choice.last).slice(0, 10);
  const to = view.to ?? lastDay;
  return { from: view.from ?? shiftDay(to, -29), to, lastDay };
}

/** From the first midnight to the one after the last day, on the plant's clocks; null when that holds no day. */
export function momentsOf({ from, to }: StudyPeriod, format: Pick<Format, 'fromInput'>): { from: string; to: string } | null {
  const first = format.fromInput(`${from}T00:00`);
  const end = format.fromInput(`${shiftDay(to, 1)}T00:00`);
  return first === null || end === null || first >= end ? null : { from: first, to: end };
}

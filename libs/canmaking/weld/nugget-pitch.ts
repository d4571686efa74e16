import { requirePositive } from '../require-number.js';
import type { Millimetre } from '../units.js';

/**
 * Distance between weld nuggets: v / (2f). Two heat pulses, hence two nuggets, a cycle of the current (physics).
 * @param speed welding speed, m/min
 * @param frequency of the weld current, Hz
 * @throws RangeError naming the bad input.
 */
export function nuggetPitch(speed: number, frequency: number): Millimetre {
  requirePositive('speed', speed);
  requirePositive('frequency', frequency);
  return (speed * 1000) / 60 / (2 * frequency);
}

/** Frequency in Hz that gives the wanted pitch (mm) at a welding speed (m/min); the inverse of `nuggetPitch`. */
export function frequencyForPitch(speed: number, pitch: Millimetre): number {
  requirePositive('speed', speed);
  requirePositive('pitch', pitch);
  return (speed * 1000) / 60 / (2 * pitch);
}

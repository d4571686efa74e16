import type { Method } from '../method.js';

export const samplingMethods: readonly Method[] = [];

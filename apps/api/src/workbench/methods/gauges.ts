import type { Method } from '../method.js';

export const gaugesMethods: readonly Method[] = [];

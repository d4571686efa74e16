import type { Method } from '../method.js';

export const powerMethods: readonly Method[] = [];

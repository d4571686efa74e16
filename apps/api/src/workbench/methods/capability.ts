import type { Method } from '../method.js';

export const capabilityMethods: readonly Method[] = [];

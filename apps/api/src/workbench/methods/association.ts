import type { Method } from '../method.js';

export const associationMethods: readonly Method[] = [];

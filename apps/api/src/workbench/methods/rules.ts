import type { Method } from '../method.js';

export const rulesMethods: readonly Method[] = [];
